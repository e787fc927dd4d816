import type { Setup } from '@barwright/geometry';
import { TEXTS } from '../look/texts.ts';
import { alongBar, type BarPlan, type PlanPoint } from './plan-of.ts';

const T = TEXTS.shims;

type Shim = Setup['shims'][number];
type Side = 'left' | 'right';

const MARGIN_MM = 24;
/** Half of the drawing's height, at least: both bars and their names. */
const HALF_MM = 240;

/** The right bar is drawn above: front to the left, seen from above. */
const upDown = (side: Side): 1 | -1 => (side === 'right' ? -1 : 1);

/** Both bars from above, with every shim where it lies: full thickness inside, its skived edges around it. */
export function ShimPlan({
  plan,
  shims,
  setPositionMm,
}: {
  plan: BarPlan;
  shims: readonly Shim[];
  setPositionMm: number;
}) {
  const ends = shims.flatMap((shim) => alongBar(shim, setPositionMm));
  const from = Math.min(0, ...ends) - MARGIN_MM;
  const to = Math.max(plan.lengthMm, ...ends) + MARGIN_MM;
  const half = Math.max(HALF_MM, ...shims.map(({ outerMm }) => outerMm + MARGIN_MM));
  return (
    <figure className="shim-plan">
      <svg viewBox={`${from} ${-half} ${to - from} ${2 * half}`} role="img" aria-label={T.planLabel(shims.length)}>
        <line className="midline" x1={from} x2={to} y1={0} y2={0} />
        {(['right', 'left'] as const).map((side) => (
          <g key={side}>
            <path className="bar" d={pathOf(plan.outline[side], upDown(side))} />
            <text className="side" x={plan.lengthMm} y={upDown(side) * (half - 12) + 6} textAnchor="end">
              {TEXTS.shims.sides[side]}
            </text>
          </g>
        ))}
        <text className="side" x={0} y={-8}>
          {T.front}
        </text>
        {shims.map((shim, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a shim is its place in the list
          <Pieces key={i} shim={shim} number={i + 1} setPositionMm={setPositionMm} />
        ))}
      </svg>
      <figcaption className="small soft">{T.planNote}</figcaption>
    </figure>
  );
}

function Pieces({ shim, number, setPositionMm }: { shim: Shim; number: number; setPositionMm: number }) {
  const [from, to] = alongBar(shim, setPositionMm);
  const sides: readonly Side[] = shim.side === 'both' ? ['right', 'left'] : [shim.side];
  const { innerMm, outerMm, rampMm } = shim;
  const box = (side: Side, inset: number) => ({
    x: from + inset,
    width: to - from - 2 * inset,
    y: upDown(side) === 1 ? innerMm + inset : -outerMm + inset,
    height: outerMm - innerMm - 2 * inset,
  });
  return sides.map((side) => (
    <g key={side} className={`piece on-${shim.fixedTo}`}>
      <rect className="edge" {...box(side, 0)} />
      <rect className="full" {...box(side, rampMm)} />
      <text x={(from + to) / 2} y={(upDown(side) * (innerMm + outerMm)) / 2 + 9} textAnchor="middle">
        {number}
      </text>
    </g>
  ));
}

const pathOf = (points: readonly PlanPoint[], sign: 1 | -1): string =>
  `M${points.map(([b, out]) => `${b.toFixed(1)} ${(sign * out).toFixed(1)}`).join('L')}Z`;
