import type { SizeCell } from '@barwright/geometry';
import { heldPressureKPa, TIME_CURVE_CAUTION } from '@barwright/geometry';
import { figureText, pressureFigure, type Units } from '../../look/format.ts';
import { SIZING_TEXTS } from '../../look/texts/sizing.ts';
import { mostP95 } from './table-of.ts';

const T = SIZING_TEXTS.held;

const WIDTH = 260;
const HEIGHT = 118;
const LEFT = 34;
const RIGHT = 6;
const TOP = 8;
const FOOT = 30;
const HOURS = 4;
const LEAST_SCALE_KPA = 45;

const xAt = (hours: number): number => LEFT + ((WIDTH - LEFT - RIGHT) * hours) / HOURS;

type ToY = (kPa: number) => number;

const pathOf = (yAt: ToY, from: number, to: number): string =>
  Array.from({ length: 21 }, (_, i) => {
    const hours = from + ((to - from) * i) / 20;
    return `${i === 0 ? 'M' : 'L'}${xAt(hours).toFixed(1)} ${yAt(heldPressureKPa(hours)).toFixed(1)}`;
  }).join('');

/** Pressure against how long it was held, for context, with the shown tree's pressures as lines across it. */
export function HeldCurve({ cell, units }: { cell: SizeCell | null; units: Units }) {
  const p95 = cell === null ? null : mostP95(cell);
  const most = Math.max(LEAST_SCALE_KPA, 1.15 * (p95 ?? 0));
  const yAt: ToY = (kPa) => TOP + (HEIGHT - TOP - FOOT) * (1 - kPa / most);
  const says = (kPa: number): string => figureText(pressureFigure(kPa, units));
  return (
    <figure className="held-curve">
      <figcaption className="small">
        <strong>{T.title}</strong>
      </figcaption>
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={T.label(says(32), says(9)) + (p95 === null ? '' : T.labelTree(says(p95)))}
      >
        {[0, 1, 2, 3, 4].map((hours) => (
          <g key={hours}>
            <path className="grid" d={`M${xAt(hours)} ${TOP}V${HEIGHT - FOOT}`} />
            <text x={xAt(hours)} y={HEIGHT - FOOT + 12} textAnchor="middle">
              {hours}
            </text>
          </g>
        ))}
        <text x={(LEFT + WIDTH - RIGHT) / 2} y={HEIGHT - 4} textAnchor="middle">
          {T.hours}
        </text>
        {[9, 32].map((kPa) => (
          <text key={kPa} x={LEFT - 4} y={yAt(kPa) + 3.5} textAnchor="end">
            {says(kPa).split('\u2009')[0]}
          </text>
        ))}
        <text x={LEFT - 4} y={TOP + 7} textAnchor="end">
          {units.pressure}
        </text>
        <path className="curve" d={pathOf(yAt, 0, 1)} />
        <path className="curve assumed" d={pathOf(yAt, 1, 2)} />
        <path className="curve" d={pathOf(yAt, 2, HOURS)} />
        {p95 !== null && (
          <>
            <path className="tree" d={`M${LEFT} ${yAt(p95)}H${WIDTH - RIGHT}`} />
            <text className="tree-name" x={WIDTH - RIGHT - 2} y={yAt(p95) - 4} textAnchor="end">
              {T.tree(says(p95))}
            </text>
          </>
        )}
      </svg>
      <p className="small soft">
        {TIME_CURVE_CAUTION} {T.dashed}
      </p>
    </figure>
  );
}
