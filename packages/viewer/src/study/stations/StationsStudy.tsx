import { type ReactNode, useMemo, useRef } from 'react';
import { Problem } from '../../card/TypedField.tsx';
import type { CutBar, CutView } from '../../contract.ts';
import { Figure } from '../../look/Figure.tsx';
import { angleFigure, figureText, lengthFigure, type Units } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import { sayGap } from '../../ruler/GapBand.tsx';
import { useWidth } from '../../ruler/use-width.ts';
import { setStation, setView, useDocument, useResult, useView } from '../../state/index.ts';
import { onBench } from '../shoulder/on-bench.ts';
import { studyLine } from '../study-line.ts';
import { Depth, PLACES } from '../takeoff/DepthTable.tsx';
import type { StationDepths } from '../takeoff/takeoff-service.ts';
import { useAnswer } from '../takeoff/use-answer.ts';
import { GapCurves } from './GapCurves.tsx';
import { StationPicture } from './StationPicture.tsx';
import { type StackScale, stackScale } from './stack-scale.ts';
import type { StationCutAt, StationStack } from './stations-service.ts';
import '../../cut/cut.css';
import './stations.css';

const T = TEXTS.stations;
const GAP_PX = 18;

/** All stations stacked against the back at one scale, and the gaps along the bars under them. */
export default function StationsStudy() {
  const pattern = useDocument((documents) => documents.pattern);
  const back = useDocument((documents) => documents.back);
  const setup = useDocument((documents) => documents.setup);
  const view = useView((state) => state);
  const fit = useResult((result) => result.fit);
  const backView = useResult((result) => result.back);
  const { isLaidOn, units } = view;
  // biome-ignore lint/correctness/useExhaustiveDependencies: another tree, horse or setup is another question
  const question = useMemo(() => ({ on: onBench(), isLaidOn }), [pattern, back, setup, isLaidOn]);
  const { value, refusal, isOlder } = useAnswer(question, (asked: typeof question) =>
    studyLine().ask((service) => service.stationStack(asked.on, asked.isLaidOn)),
  );
  return (
    <div className="stations">
      <fieldset className="switch">
        <legend className="visually-hidden">{TEXTS.ruler.seating}</legend>
        {([true, false] as const).map((laidOn) => (
          <button
            key={String(laidOn)}
            type="button"
            aria-pressed={isLaidOn === laidOn}
            onClick={() => setView({ isLaidOn: laidOn })}
          >
            {laidOn ? T.laidOn : T.loaded}
          </button>
        ))}
      </fieldset>
      {refusal !== null && <Problem problem={refusal} />}
      {value === null && refusal === null && <p className="soft">{T.working}</p>}
      {value !== null && (
        <div className={isOlder ? 'stale' : ''} aria-busy={isOlder}>
          <Stack stack={value} isLaidOn={isLaidOn} units={units} />
        </div>
      )}
      {fit !== null && (
        <GapCurves
          fit={fit}
          back={backView}
          isLaidOn={isLaidOn}
          limits={view.clearanceScale}
          units={units}
          stationXMm={view.stationXMm}
        />
      )}
    </div>
  );
}

function Stack({ stack, isLaidOn, units }: { stack: StationStack; isLaidOn: boolean; units: Units }) {
  const holder = useRef<HTMLDivElement>(null);
  const widthPx = useWidth(holder, 640);
  const columns = widthPx < 560 ? 1 : Math.min(3, stack.stations.length);
  const each = Math.floor((widthPx - GAP_PX * (columns - 1)) / columns);
  const scale = useMemo(
    () =>
      stackScale(
        stack.stations.map(({ cut }) => cut),
        each,
      ),
    [stack, each],
  );
  const { change } = stack;
  return (
    <>
      <div ref={holder} className="station-stack" style={{ gridTemplateColumns: `repeat(${columns}, ${each}px)` }}>
        {scale !== null &&
          stack.stations.map((station, i) => (
            <Station
              key={station.name}
              station={station}
              scale={scale}
              widthPx={each}
              layersMm={isLaidOn ? 0 : stack.layersMm}
              units={units}
              change={change === null ? null : { parent: change.parent, rows: rowOf(change.rows, station.name, i) }}
            />
          ))}
      </div>
      <p className="small soft">{change === null ? T.noParent : T.changeNote(change.parent)}</p>
    </>
  );
}

const rowOf = (rows: readonly StationDepths[], name: string, i: number): StationDepths | null =>
  rows.find((row) => row.name === name) ?? rows[i] ?? null;

interface StationProps {
  readonly station: StationCutAt;
  readonly scale: StackScale;
  readonly widthPx: number;
  readonly layersMm: number;
  readonly units: Units;
  readonly change: { readonly parent: string; readonly rows: StationDepths | null } | null;
}

function Station({ station, scale, widthPx, layersMm, units, change }: StationProps) {
  const { name, xMm, cut } = station;
  const place = `${figureText(lengthFigure(xMm, units, { decimals: 0 }))} ${TEXTS.cut.behindBlade}`;
  return (
    <section className="station" aria-label={name}>
      <h3>
        {name} <span className="small soft">{place}</span>{' '}
        <button type="button" className="small" onClick={() => setStation(xMm)}>
          {T.go}
        </button>
      </h3>
      <StationPicture cut={cut} scale={scale} widthPx={widthPx} layersMm={layersMm} label={`${name}, ${place}`} />
      <StationFigures cut={cut} units={units} change={change} />
    </section>
  );
}

/** Slopes and gaps of both bars in this plane. */
function StationFigures({ cut, units, change }: Pick<StationProps, 'units' | 'change'> & { cut: CutView }) {
  const rows: readonly [string, (bar: CutBar) => ReactNode][] = [
    [T.bar, (bar) => <Figure of={angleFigure(bar.barSlopeDeg)} />],
    [T.back, (bar) => <Figure of={angleFigure(bar.backSlopeDeg)} />],
    [
      T.mismatch,
      ({ barSlopeDeg, backSlopeDeg }) => (
        <Figure of={angleFigure(backSlopeDeg === null ? null : barSlopeDeg - backSlopeDeg, true)} />
      ),
    ],
    [`${T.gap}, ${T.lines.inner}`, (bar) => sayGap(bar.gapInnerMm, units)],
    [`${T.gap}, ${TEXTS.cut.middle}`, (bar) => sayGap(bar.gapMiddleMm, units)],
    [`${T.gap}, ${T.lines.outer}`, (bar) => sayGap(bar.gapOuterMm, units)],
  ];
  return (
    <table className="small">
      <thead>
        <tr>
          <th scope="col">
            <span className="visually-hidden">{T.sides}</span>
          </th>
          <th scope="col">{TEXTS.left}</th>
          <th scope="col">{TEXTS.right}</th>
        </tr>
      </thead>
      <tbody>
        {rows.map(([name, show]) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            {(['left', 'right'] as const).map((side) => (
              <td key={side}>{cut[side] === null ? T.none : show(cut[side])}</td>
            ))}
          </tr>
        ))}
        {change?.rows != null &&
          PLACES.map((place, i) => (
            <tr key={place} className="station-change">
              <th scope="row">{T.change(change.parent, TEXTS.takeOff.places[place])}</th>
              {(['left', 'right'] as const).map((side) => (
                <td key={side}>
                  <Depth mm={change.rows![side][i]!} units={units} />
                </td>
              ))}
            </tr>
          ))}
      </tbody>
    </table>
  );
}
