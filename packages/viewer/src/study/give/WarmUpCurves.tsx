import type { GiveStudy, WarmUpRow } from '@barwright/geometry';
import { figureText, forceFigure, gapFigure, pressureFigure, type Units } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import { useView } from '../../state/index.ts';
import { chartUnits } from '../shoulder/in-units.ts';
import { StudyChart } from '../shoulder/StudyChart.tsx';
import { frontTipMm, tipLoadN } from './give-figures.ts';

const T = TEXTS.give;
const HOURS_A_YEAR = 8766;

interface Axis {
  readonly place: (row: WarmUpRow) => number;
  readonly say: (row: WarmUpRow) => string;
}

const MINUTES: Axis = { place: ({ minutes }) => minutes, say: ({ minutes }) => T.minutes(minutes) };
/** Time under load runs by powers of ten. */
const HOURS: Axis = {
  place: ({ hours }) => Math.log10(1 + hours),
  say: ({ hours }) => (hours >= HOURS_A_YEAR ? T.years(Math.round(hours / HOURS_A_YEAR)) : T.hours(hours)),
};

/** From cold to back heat over minutes, and under load over hours; both ends of each in words. */
export function WarmUpCurves({ study: { warmUp } }: { study: GiveStudy }) {
  if (warmUp.minutes.length < 2) return null;
  return (
    <section className="give-warm" aria-label={T.warmUp}>
      <h3>{T.warmUp}</h3>
      <Curves rows={warmUp.minutes} axis={MINUTES} title={T.overMinutes} />
      {warmUp.hours.length > 1 && <Curves rows={warmUp.hours} axis={HOURS} title={T.overHours} />}
    </section>
  );
}

interface CurvesProps {
  readonly rows: readonly WarmUpRow[];
  readonly axis: Axis;
  readonly title: string;
}

function Curves({ rows, axis, title }: CurvesProps) {
  const units = useView((view) => view.units);
  const chart = chartUnits(units);
  const x = rows.map(axis.place);
  const range = [x[0]!, x.at(-1)!] as const;
  const ticks = readable(rows.map((row) => ({ x: axis.place(row), text: axis.say(row) })));
  const force = forceFigure(1, units);
  const perNewton = force.unit === 'N' ? 1 : forceScale(units);
  const curves = [
    { name: `${T.columns.tips}, ${force.unit}`, y: rows.map(({ figures }) => tipLoadN(figures) * perNewton) },
    { name: `${T.columns.tipMoves}, ${chart.gapUnit}`, y: rows.map(({ figures }) => chart.gap(frontTipMm(figures))) },
    { name: `${T.columns.peak}, ${chart.pressureUnit}`, y: rows.map(({ figures }) => chart.pressure(figures.peakKPa)) },
  ];
  const ends = [rows[0]!, rows.at(-1)!].map((row) => endWords(row, axis, units));
  return (
    <div>
      <p className="small">
        {title}: {ends.join('; ')}.
      </p>
      <div className="stride-curves">
        {curves.map(({ name, y }) => (
          <StudyChart
            key={name}
            title={name}
            label={`${name}, ${title}. ${ends.join('; ')}`}
            lines={[{ id: name, name: '', className: 'bearing', x, y }]}
            ticks={ticks}
            range={range}
          />
        ))}
      </div>
    </div>
  );
}

const forceScale = (units: Units): number => Number(forceFigure(1e6, units).number) / 1e6;

interface Tick {
  readonly x: number;
  readonly text: string;
}

/** Ticks that would run into the one before or into the last are left out; both ends stay. */
function readable(ticks: readonly Tick[]): Tick[] {
  const [first, last] = [ticks[0]!, ticks.at(-1)!];
  const room = (last.x - first.x) / 6;
  const kept = [first];
  for (const tick of ticks.slice(1, -1)) {
    if (tick.x - kept.at(-1)!.x >= room && last.x - tick.x >= room) kept.push(tick);
  }
  return [...kept, last];
}

function endWords(row: WarmUpRow, axis: Axis, units: Units): string {
  const { figures, barC, layerC } = row;
  const said = [
    T.tipsCarry(figureText(forceFigure(tipLoadN(figures), units))),
    T.tipsMove(figureText(gapFigure(frontTipMm(figures), units, { decimals: 2, signed: true }))),
    T.peakIs(figureText(pressureFigure(figures.peakKPa, units))),
  ];
  return `${T.at(axis.say(row), barC, layerC)} ${said.join(', ')}`;
}
