import type { BarProfile, MapGrid } from '@barwright/geometry';

/** One bar of a result: its map and the curve that says where along the horse it lies. */
export interface MappedBar {
  readonly grid: MapGrid;
  readonly profile: Pick<BarProfile, 'bMm' | 'xMm'>;
}

/** Linear through knots that rise; beyond the ends the end's own slope goes on. */
export function through(from: ArrayLike<number>, to: ArrayLike<number>, value: number): number {
  const last = from.length - 1;
  let i = 1;
  while (i < last && from[i]! < value) i++;
  const share = (value - from[i - 1]!) / (from[i]! - from[i - 1]!);
  return to[i - 1]! + share * (to[i]! - to[i - 1]!);
}

/** mm behind the blade edge of a place along the bar, mm from the front tip. */
export const behindBlade = ({ profile }: MappedBar, alongMm: number): number =>
  through(profile.bMm, profile.xMm, alongMm);

/** The other way. */
export const alongAt = ({ profile }: MappedBar, xMm: number): number => through(profile.xMm, profile.bMm, xMm);

/** -1 at the inner edge to +1 at the outer one: nodes stand in the cells' middles and on both edges. */
const columnT = (columns: number, j: number): number =>
  j === 0 ? -1 : j === columns - 1 ? 1 : -1 + (2 * (j - 0.5)) / (columns - 2);

/** Value of a map at a place of its bar, linear between nodes; NaN beyond its ends and beside missing data. */
export function mapValue(grid: MapGrid, alongMm: number, t: number): number {
  const { rows, columns, alongMm: along, values } = grid;
  const length = along[(rows - 1) * columns]!;
  if (alongMm < -SLACK_MM || alongMm > length + SLACK_MM) return Number.NaN;
  let i = 1;
  while (i < rows - 1 && along[i * columns]! < alongMm) i++;
  let j = 1;
  while (j < columns - 1 && columnT(columns, j) < t) j++;
  const [from, to] = [along[(i - 1) * columns]!, along[i * columns]!];
  const down = clamp01((alongMm - from) / (to - from));
  const [inner, outer] = [columnT(columns, j - 1), columnT(columns, j)];
  const across = clamp01((t - inner) / (outer - inner));
  return weighted([
    [values[(i - 1) * columns + j - 1]!, (1 - down) * (1 - across)],
    [values[(i - 1) * columns + j]!, (1 - down) * across],
    [values[i * columns + j - 1]!, down * (1 - across)],
    [values[i * columns + j]!, down * across],
  ]);
}

/** A tip edge worked out on two bars differs in its last digits. */
const SLACK_MM = 0.01;

const clamp01 = (share: number): number => Math.min(1, Math.max(0, share));

/** A corner without data counts only where it has weight. */
function weighted(corners: readonly (readonly [number, number])[]): number {
  let sum = 0;
  for (const [value, weight] of corners) if (weight > 1e-9) sum += value * weight;
  return sum;
}

/** How places of two bars are matched: by mm behind the blade edge, or by share of the bar's length. Across always by t. */
export type Matching = 'mm' | 'share';

/** The second bar's values less the first's, on the first's nodes; NaN where either has none. */
export function differenceGrid(first: MappedBar, second: MappedBar, matching: Matching): MapGrid {
  const { grid } = first;
  const { rows, columns, alongMm } = grid;
  const lengthOf = ({ rows: n, columns: m, alongMm: along }: MapGrid): number => along[(n - 1) * m]!;
  const stretch = lengthOf(second.grid) / lengthOf(grid);
  const values = new Float64Array(rows * columns);
  for (let i = 0; i < rows; i++) {
    const along = alongMm[i * columns]!;
    const there = matching === 'share' ? along * stretch : alongAt(second, behindBlade(first, along));
    for (let j = 0; j < columns; j++) {
      const node = i * columns + j;
      values[node] = mapValue(second.grid, there, columnT(columns, j)) - grid.values[node]!;
    }
  }
  return { ...grid, values };
}
