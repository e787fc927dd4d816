import type { FlexFigures } from '@barwright/geometry';
import type { FitView } from '../contract.ts';
import { Figure } from '../look/Figure.tsx';
import { decimalFigure, type FigureParts, forceFigure, gapFigure, type Units } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { Figures, Line } from './KeyFigures.tsx';

const T = TEXTS.reading;

type Tip = FlexFigures['bars'][0]['tips'][0];

/** What the tips carry, of rigid bars too; what flexible bars do, each strain beside its cited limit. */
export function GiveLines({ fit, units }: { fit: FitView; units: Units }) {
  const { flex } = fit.result;
  return (
    <section className="give-lines" aria-label={T.give}>
      <h3>{T.give}</h3>
      <dl>
        <Line name={T.tipsCarry} title={T.tipsCarryNote}>
          <Figures of={['front tip', 'rear tip'].map((name) => forceFigure(zoneN(fit.zones, name), units))} />
        </Line>
        {flex !== null && <FlexLines flex={flex} units={units} />}
      </dl>
      {flex === null ? <p className="small soft">{T.rigidNote}</p> : <StrainNote flex={flex} />}
    </section>
  );
}

const zoneN = (zones: FitView['zones'], name: string): number => zones.find((zone) => zone.name === name)?.loadN ?? 0;

function FlexLines({ flex, units }: { flex: FlexFigures; units: Units }) {
  const [left, right] = flex.bars;
  const both = (end: 0 | 1, of: (tip: Tip) => FigureParts): FigureParts[] => [of(left.tips[end]), of(right.tips[end])];
  const move = (mm: number): FigureParts => gapFigure(mm, units, { signed: true, decimals: 2 });
  const strain = ({ rootStrainPercent }: Tip): FigureParts => decimalFigure(rootStrainPercent, '%', 2);
  return (
    <>
      {([0, 1] as const).map((end) => (
        <Line key={end} name={T.tipMoves[end]} title={T.movesNote}>
          <Figures of={both(end, ({ moveMm }) => move(moveMm))} />
        </Line>
      ))}
      {([0, 1] as const).map((end) => (
        <Line key={end} name={T.rootStrain[end]} title={T.strainNote}>
          <Figures of={both(end, strain)} />
        </Line>
      ))}
      <Line name={T.middleGives} title={T.movesNote}>
        <Figures of={[left, right].map(({ middleMm }) => move(middleMm))} />
      </Line>
      <Line name={T.barsAt}>
        <Figure of={decimalFigure(flex.temperatureC, '°C', 0)} />, <Figure of={decimalFigure(flex.hours, 'h', 0)} />
      </Line>
    </>
  );
}

/** The limit and whose it is; a limit that nobody published is said so. */
function StrainNote({ flex }: { flex: FlexFigures }) {
  const [{ tips }] = flex.bars;
  const { strainLimitPercent: limit, strainSource } = tips[0];
  const beyond = flex.bars.some((bar) => bar.tips.some(({ beyondLinear }) => beyondLinear));
  return (
    <p className="small soft">
      {limit === null ? T.noStrainLimit(strainSource) : T.strainLimit(limit, strainSource)}
      {beyond && ` ${T.beyondLinear}`}
    </p>
  );
}
