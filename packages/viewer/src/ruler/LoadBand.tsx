import { type BarProfile, MM_PER_INCH, N_PER_POUND_FORCE } from '@barwright/geometry';
import { useId } from 'react';
import { TEXTS } from '../look/texts.ts';
import { mapped, stepPath } from './curve-path.ts';
import type { RulerFrame } from './frame.ts';
import { niceCeiling } from './ruler-scale.ts';

const T = TEXTS.ruler;

export interface LoadBandProps {
  readonly frame: RulerFrame;
  readonly profiles: { readonly left: BarProfile; readonly right: BarProfile };
  readonly topPx: number;
  readonly heightPx: number;
  /** The whole load: the scale's end follows from it alone, so that a change of shape does not rescale it. */
  readonly appliedN: number;
}

/** N/mm in one lbf/in. */
const N_PER_MM = N_PER_POUND_FORCE / MM_PER_INCH;
/** Three times the load spread evenly over a metre of bars. */
const endOf = (appliedN: number): number => (3 * appliedN) / 1000;

/** Load along the bars in steps: left above the line, right below it. */
export function LoadBand({ frame, profiles, topPx, heightPx, appliedN }: LoadBandProps) {
  const id = useId();
  const { scale } = frame;
  const middle = topPx + heightPx / 2;
  const perUnit = frame.units.mass === 'kg' ? 1 : N_PER_MM;
  const most = niceCeiling(endOf(appliedN) / perUnit);
  const perN = heightPx / 2 / (most * perUnit);
  const left = scale.toPx(scale.fromMm);
  const width = scale.toPx(scale.toMm) - left;
  const steps = (p: BarProfile, sign: 1 | -1): string =>
    stepPath(
      mapped(p.loadAtXMm, scale.toPx),
      mapped(p.loadNPerMm, (n) => middle - sign * n * perN),
      middle,
    );
  return (
    <g className="band load">
      <clipPath id={id}>
        <rect x={left} y={topPx} width={width} height={heightPx} />
      </clipPath>
      <rect className="ground" x={left} y={topPx} width={width} height={heightPx} />
      <g clipPath={`url(#${id})`}>
        <path className="load-area" d={steps(profiles.left, 1)} />
        <path className="load-area" d={steps(profiles.right, -1)} />
      </g>
      <line className="zero" x1={left} x2={left + width} y1={middle} y2={middle} />
      <text className="curve-name" x={left + 4} y={topPx + 10}>
        {frame.isNarrow ? `${T.load}, ${TEXTS.left}` : TEXTS.left}
      </text>
      <text className="curve-name" x={left + 4} y={topPx + heightPx - 3}>
        {TEXTS.right}
      </text>
      {!frame.isNarrow && (
        <>
          <text className="name" x={8} y={middle + 4}>
            {T.load}
          </text>
          <text className="tick" x={left - 6} y={topPx + 10} textAnchor="end">
            {most} {T.loadUnit[frame.units.mass]}
          </text>
          <text className="tick" x={left - 6} y={topPx + heightPx - 2} textAnchor="end">
            {most}
          </text>
        </>
      )}
    </g>
  );
}
