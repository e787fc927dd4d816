import { type Side, type StrideResult, type TipFigures, tipEdgeGapMm } from '@barwright/geometry';
import { figureText, gapFigure, pressureFigure, type Units } from '../../look/format.ts';
import { COMMON_TEXTS } from '../../look/texts/common.ts';
import { SHOULDER_TEXTS } from '../../look/texts/shoulder.ts';
import { useView } from '../../state/index.ts';
import { useBesideNames } from './BesideLines.tsx';
import { BESIDES } from './beside.ts';
import { type ChartUnits, chartUnits } from './in-units.ts';
import { type ChartLine, StudyChart } from './StudyChart.tsx';
import { type DoneStride, useStride } from './stride-store.ts';

const T = SHOULDER_TEXTS.curves;

const HEIGHTS = [
  ['innerGapMm', 'inner'],
  ['bearingGapMm', 'bearing'],
  ['outerGapMm', 'outer'],
] as const;
const PHASE_TICKS = [0, 0.25, 0.5, 0.75, 1].map((x) => ({ x, text: String(x) }));
const SIDES = [
  ['left', 0],
  ['right', 1],
] as const;

/** Clearance at both tip edges and pressure under both tip zones over the stride, and the gap along the front of the worst tip. */
export function StrideCurves({ done }: { done: DoneStride }) {
  const units = useView((view) => view.units);
  const index = useStride((stride) => stride.index);
  const asked = useStride((stride) => stride.asked);
  const results = useStride((stride) => stride.beside);
  const names = useBesideNames();
  const beside = BESIDES.flatMap((kind): DrawnBeside[] => {
    const result = results[kind];
    return asked[kind] && result !== null ? [{ name: names[kind], className: kind, result }] : [];
  });
  const shared = { done, beside, units, chart: chartUnits(units), at: index / done.frames.length };
  return (
    <div className="stride-curves">
      {SIDES.map(([side, which]) => (
        <TipEdge key={side} {...shared} side={side} which={which} />
      ))}
      <TipPressure {...shared} />
      <FrontGaps {...shared} />
    </div>
  );
}

/** A stride under another condition, drawn dashed beside the one on show. */
interface DrawnBeside {
  readonly name: string;
  readonly className: string;
  readonly result: StrideResult;
}

interface CurveProps {
  readonly done: DoneStride;
  readonly beside: readonly DrawnBeside[];
  readonly units: Units;
  readonly chart: ChartUnits;
  readonly at: number;
}

/** Over one whole stride: its first phase comes again at its end. */
const phasesOf = ({ phases }: StrideResult): number[] => [...phases.map(({ phase }) => phase), 1];
const closed = (values: number[]): number[] => [...values, values[0]!];

function TipEdge({ done, beside, units, chart, at, side, which }: CurveProps & { side: Side; which: 0 | 1 }) {
  const { result } = done;
  const { leastGapMm, leastGapPhase } = result.tips[which];
  const curve = (of: StrideResult, pick: (tip: TipFigures) => number | null): number[] =>
    closed(of.phases.map(({ tips }) => chart.gap(pick(tips[which]))));
  const lines: ChartLine[] = HEIGHTS.map(([key, height]) => ({
    id: key,
    name: T.heights[height],
    className: height,
    x: phasesOf(result),
    y: curve(result, (tip) => tip[key]),
  }));
  for (const { name, className, result: own } of beside)
    lines.push({ id: name, name, className, x: phasesOf(own), y: curve(own, tipEdgeGapMm) });
  const least = figureText(gapFigure(leastGapMm, units));
  const sideName = COMMON_TEXTS[side];
  const marks =
    leastGapMm === null || leastGapPhase === null
      ? []
      : [{ x: leastGapPhase, y: chart.gap(leastGapMm), text: T.least(least) }];
  return (
    <StudyChart
      title={T.edge(sideName, chart.gapUnit)}
      label={T.edgeLabel(sideName, least, (leastGapPhase ?? 0).toFixed(2))}
      lines={lines}
      ticks={PHASE_TICKS}
      range={[0, 1]}
      marks={marks}
      at={at}
    />
  );
}

function TipPressure({ done, beside, units, chart, at }: CurveProps) {
  const { result } = done;
  const curve = (of: StrideResult, which: 0 | 1): number[] =>
    closed(of.phases.map(({ tips }) => chart.pressure(tips[which].highestPressureKPa)));
  const lines: ChartLine[] = SIDES.map(([side, which]) => ({
    id: side,
    name: COMMON_TEXTS[side],
    className: side,
    x: phasesOf(result),
    y: curve(result, which),
  }));
  for (const { name, className, result: own } of beside)
    for (const [side, which] of SIDES)
      lines.push({
        id: `${name} ${side}`,
        name: which === 0 ? name : '',
        className,
        x: phasesOf(own),
        y: curve(own, which),
      });
  const most = result.tips.map(({ side, highestPressureKPa, highestPressurePhase }) =>
    T.most(COMMON_TEXTS[side], figureText(pressureFigure(highestPressureKPa, units)), highestPressurePhase.toFixed(2)),
  );
  return (
    <StudyChart
      title={T.pressure(chart.pressureUnit)}
      label={T.pressureLabel(most.join(', '))}
      lines={lines}
      ticks={PHASE_TICKS}
      range={[0, 1]}
      at={at}
    />
  );
}

function FrontGaps({ done: { begun, frames, result }, units, chart }: CurveProps) {
  const which = worstSide(result);
  const worst = frames.find(({ phase }) => phase.phase === result.worstPhase) ?? frames[0]!;
  const still = begun.standing.front[which];
  const far = worst.front[which];
  const inUnit = (gaps: Float64Array): number[] => Array.from(gaps, (gap) => chart.gap(gap));
  const lines: ChartLine[] = [
    { id: 'standing', name: T.standing, className: 'standing', x: still.bMm, y: inUnit(still.gapMm) },
    { id: 'worst', name: T.worst, className: 'bearing', x: far.bMm, y: inUnit(far.gapMm) },
  ];
  const ticks = [0, 30, 60, 90, 120].map((x) => ({
    x,
    text: units.length === 'in' ? (x / 25.4).toFixed(1) : String(x),
  }));
  const sideName = COMMON_TEXTS[which === 0 ? 'left' : 'right'];
  return (
    <StudyChart
      title={T.front(sideName, chart.gapUnit)}
      label={T.frontLabel(sideName, result.worstPhase.toFixed(2))}
      lines={lines}
      ticks={ticks}
      range={[0, 120]}
    />
  );
}

/** The tip with the least clearance. */
export const worstSide = ({ tips: [left, right] }: StrideResult): 0 | 1 =>
  (left.leastGapMm ?? Number.POSITIVE_INFINITY) <= (right.leastGapMm ?? Number.POSITIVE_INFINITY) ? 0 : 1;
