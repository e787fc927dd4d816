import type { ReactNode } from 'react';
import type { DoubtLine } from './numbers-lines.ts';

/** A true-scale window: the same pixels per mm both ways. */
export interface Window {
  readonly pxPerMm: number;
  toX(mm: number): number;
  toY(mm: number): number;
}

export const linePath = ({ along, heightMm }: DoubtLine, { toX, toY }: Window): string =>
  along
    .map((v, i) => (Number.isNaN(heightMm[i]!) ? '' : `${toX(v).toFixed(1)} ${toY(heightMm[i]!).toFixed(1)}`))
    .filter((part) => part !== '')
    .map((part, i) => (i === 0 ? 'M' : 'L') + part)
    .join('');

/** The band within which the line may lie. */
export function bandPath({ along, heightMm, doubtMm }: DoubtLine, { toX, toY }: Window): string {
  const places = along.map((v, i) => ({ v, z: heightMm[i]!, d: doubtMm[i]! })).filter(({ z }) => !Number.isNaN(z));
  const upper = places.map(({ v, z, d }) => `${toX(v).toFixed(1)} ${toY(z + d).toFixed(1)}`);
  const lower = places.reverse().map(({ v, z, d }) => `${toX(v).toFixed(1)} ${toY(z - d).toFixed(1)}`);
  return `M${[...upper, ...lower].join('L')}Z`;
}

interface DimensionProps {
  readonly isLit: boolean;
  /** Not yet given: an average is drawn, dashed. */
  readonly isGiven: boolean;
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly label: string;
  readonly labelAt: readonly [number, number];
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly children?: ReactNode;
}

/** A dimension line with true arrows and its figure; it lights up while its field is worked on. */
export function Dimension(props: DimensionProps) {
  const { isLit, isGiven, from, to, label, labelAt, anchor = 'middle', children } = props;
  return (
    <g className={dimensionClass(isLit, isGiven)}>
      {children}
      <path d={`M${from[0]} ${from[1]}L${to[0]} ${to[1]}`} />
      <path className="arrow" d={arrow(from, to) + arrow(to, from)} />
      <text x={labelAt[0]} y={labelAt[1]} textAnchor={anchor}>
        {label}
      </text>
    </g>
  );
}

export const dimensionClass = (isLit: boolean, isGiven: boolean): string =>
  `dimension${isLit ? ' lit' : ''}${isGiven ? '' : ' average'}`;

const ARROW_PX = 6;

function arrow([x0, y0]: readonly [number, number], [x1, y1]: readonly [number, number]): string {
  const length = Math.hypot(x1 - x0, y1 - y0);
  if (length < 1) return '';
  const [u, v] = [((x0 - x1) / length) * ARROW_PX, ((y0 - y1) / length) * ARROW_PX];
  return `M${x0 - u - v / 2.5} ${y0 - v + u / 2.5}L${x0} ${y0}L${x0 - u + v / 2.5} ${y0 - v - u / 2.5}`;
}
