import type { BackView, BarView } from '../../contract.ts';
import { cellOf, extended, extendPositions, gridTriangles } from './grid.ts';
import { type Hit, type Ray, rayHit } from './ray-hit.ts';

export type Side = 'left' | 'right';
type Vector = readonly [number, number, number];

/** A place that is read: a cell of an underside, or a bare place of the back. */
export type ProbePlace =
  | { readonly on: 'bar'; readonly side: Side; readonly cell: number }
  | { readonly on: 'back'; readonly atMm: Vector; readonly normal: Vector };

/** What is read at a cell; null where there is no data, or where the cell's stirrup slot is open. */
export interface CellReading {
  readonly side: Side;
  /** Station from the front tip, and place behind the blade edge, mm. */
  readonly bMm: number;
  readonly xMm: number;
  readonly yMm: number;
  readonly hasData: boolean;
  readonly isSlot: boolean;
  /** + clear, - squeeze. */
  readonly gapMm: number | null;
  readonly pressureKPa: number | null;
  readonly barSlopeDeg: number;
  readonly backSlopeDeg: number | null;
  readonly thicknessMm: number;
  /** + away from the horse. */
  readonly giveMm: number;
}

const DEGREES = 180 / Math.PI;

/** The numbers of a cell as the seating has them, unrounded. Slopes: fall outward in the crosswise plane through the cell. */
export function readCell(bar: BarView, side: Side, cell: number): CellReading {
  const gap = bar.gapMm[cell]!;
  const hasData = !Number.isNaN(gap);
  return {
    side,
    bMm: bar.bMm[cell]!,
    xMm: bar.positions[3 * cell]!,
    yMm: bar.positions[3 * cell + 1]!,
    hasData,
    isSlot: bar.bearing[cell]! < 0.5,
    gapMm: hasData ? gap : null,
    pressureKPa: hasData ? bar.pressureKPa[cell]! : null,
    barSlopeDeg: fallDeg(bar.normals, 3 * cell, side),
    backSlopeDeg: hasData ? fallDeg(bar.backNormals, 3 * cell, side) : null,
    thicknessMm: bar.thicknessMm[cell]!,
    giveMm: bar.giveMm[cell]!,
  };
}

/** Fall outward of a surface in a crosswise plane, degrees below the horizontal; either way round of the normal. */
export function fallDeg(normals: ArrayLike<number>, at: number, side: Side): number {
  return DEGREES * Math.atan(((side === 'right' ? 1 : -1) * normals[at + 1]!) / normals[at + 2]!);
}

/** The cell of a bar nearest to a station x in a column of cells; null where the bar doesn't reach there by more than a cell. */
export function cellAt(bar: BarView, column: number, xMm: number): number | null {
  let best = -1;
  let off = Number.POSITIVE_INFINITY;
  for (let i = 0; i < bar.rows; i++) {
    const cell = i * bar.columns + column;
    const away = Math.abs(bar.positions[3 * cell]! - xMm);
    if (away < off) [best, off] = [cell, away];
  }
  const rowMm = Math.abs(bar.bMm[bar.columns]! - bar.bMm[0]!);
  return off <= rowMm ? best : null;
}

/** Places across at a station, counted from the left bar's outer edge over both inner edges to the right one's outer. */
export function placeAcross(
  bars: { readonly left: BarView; readonly right: BarView },
  across: number,
  xMm: number,
): ProbePlace | null {
  const side = across < bars.left.columns ? 'left' : 'right';
  const column = side === 'left' ? bars.left.columns - 1 - across : across - bars.left.columns;
  const cell = cellAt(bars[side], column, xMm);
  return cell === null ? null : { on: 'bar', side, cell };
}

/** What a ray meets: undersides come before the back wherever both lie in its way, for they are what is asked about. */
export function placeUnder(
  ray: Ray,
  bars: { readonly left: BarView; readonly right: BarView } | null,
  back: Pick<BackView, 'positions' | 'triangles'> | null,
): ProbePlace | null {
  const found = bars === null ? null : barUnder(ray, bars);
  if (found !== null) return found;
  return back === null ? null : backUnder(ray, back);
}

function barUnder(ray: Ray, bars: { readonly left: BarView; readonly right: BarView }): ProbePlace | null {
  let best: { side: Side; cell: number; distance: number } | null = null;
  for (const side of ['left', 'right'] as const) {
    const { rows, columns, positions } = bars[side];
    const net = new Float32Array(3 * extended(rows) * extended(columns));
    const triangles = gridTriangles(extended(rows), extended(columns));
    const hit = rayHit(ray, extendPositions(positions, rows, columns, net), triangles);
    if (hit === null || (best !== null && best.distance <= hit.distance)) continue;
    const node = cornerOf(hit, triangles);
    const wide = extended(columns);
    best = { side, cell: cellOf(Math.floor(node / wide), node % wide, rows, columns), distance: hit.distance };
  }
  return best === null ? null : { on: 'bar', side: best.side, cell: best.cell };
}

/** The corner nearest to the place hit. */
const cornerOf = ({ triangle, weights }: Hit, triangles: ArrayLike<number>): number =>
  triangles[triangle + weights.indexOf(Math.max(...weights))]!;

function backUnder(
  ray: Ray,
  { positions: p, triangles }: Pick<BackView, 'positions' | 'triangles'>,
): ProbePlace | null {
  const hit = rayHit(ray, p, triangles);
  if (hit === null) return null;
  const [a, b, c] = [0, 1, 2].map((k) => 3 * triangles[hit.triangle + k]!) as [number, number, number];
  const at = [0, 1, 2].map((k) => ray.origin[k]! + hit.distance * ray.towards[k]!) as [number, number, number];
  const u = [0, 1, 2].map((k) => p[b + k]! - p[a + k]!) as [number, number, number];
  const v = [0, 1, 2].map((k) => p[c + k]! - p[a + k]!) as [number, number, number];
  const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]] as const;
  const size = Math.hypot(...n) * (n[2] < 0 ? -1 : 1);
  return { on: 'back', atMm: at, normal: [n[0] / size, n[1] / size, n[2] / size] };
}
