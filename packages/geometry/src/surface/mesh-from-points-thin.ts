import type { ProjectedPoints } from './mesh-from-points-project.ts';

/** One vertex a cell, in the projected frame. */
export interface Cells {
  readonly side: number;
  readonly columns: number;
  readonly rows: number;
  /** 3 x cells: u, v, h; NaN in u for an empty cell. */
  readonly vertices: Float64Array;
  /** Points that each cell's vertex stands for. */
  readonly held: Uint32Array;
  readonly filled: number;
  readonly used: number;
  readonly below: number;
  readonly scatter: number;
}

/** A gap in height, in cells, that parts an upper surface from what lies below it. */
const LAYER_GAP = 4;
/** Share of its cell's points, or of a usual cell's when a leg adds many, that a layer needs, so that no stray point becomes the surface. */
const LAYER_SHARE = 0.2;
/** Sums a cell keeps: n, u, v, h, uu, uv, vv, uh, vh, all about the cell's own middle. */
const SUMS = 9;

/** Sorts the points by cell, keeps each cell's upper layer, and puts one vertex in its place. */
export function thinToCells(points: ProjectedPoints): Cells {
  const { uvh, side, columns, rows } = points;
  const { order, starts } = sortByCell(points);
  const ends = new Uint32Array(columns * rows);
  const sums = new Float64Array(SUMS * columns * rows);
  const counts = new Uint32Array(ends.length);
  const usual = pointsInUsualCell(starts, ends.length);
  let used = 0;
  for (let cell = 0; cell < ends.length; cell++) {
    const held = order.subarray(starts[cell], starts[cell + 1]);
    if (held.length === 0) continue;
    sortFromTop(held, uvh);
    const [from, to] = upperLayer(held, uvh, LAYER_GAP * side, LAYER_SHARE * Math.min(held.length, usual));
    starts[cell] += from;
    ends[cell] = starts[cell] + to - from;
    counts[cell] = to - from;
    used += to - from;
    addSums(sums, cell, order.subarray(starts[cell], ends[cell]), points);
  }
  const vertices = new Float64Array(3 * ends.length).fill(Number.NaN);
  const residuals: number[] = [];
  let filled = 0;
  for (let cell = 0; cell < ends.length; cell++) {
    if (ends[cell] === 0) continue;
    filled++;
    placeVertex(vertices, cell, order.subarray(starts[cell], ends[cell]), sums, points, residuals);
  }
  const scatter = medianOf(Float64Array.from(residuals));
  return { side, columns, rows, vertices, held: counts, filled, used, below: order.length - used, scatter };
}

/** Counting sort: points of cell c are order[starts[c]] to order[starts[c + 1] - 1]. */
function sortByCell({ uvh, side, columns, rows }: ProjectedPoints): { order: Uint32Array; starts: Uint32Array } {
  const count = uvh.length / 3;
  const cellOf = new Uint32Array(count);
  const starts = new Uint32Array(columns * rows + 2);
  for (let i = 0; i < count; i++) {
    cellOf[i] = Math.floor(uvh[3 * i + 1] / side) * columns + Math.floor(uvh[3 * i] / side);
    starts[cellOf[i] + 2]++;
  }
  for (let cell = 2; cell < starts.length; cell++) starts[cell] += starts[cell - 1];
  const order = new Uint32Array(count);
  for (let i = 0; i < count; i++) order[starts[cellOf[i] + 1]++] = i;
  return { order, starts };
}

/** More than this many are left to the built-in sort. */
const FEW = 40;

/** Highest first. Most cells hold four points or so, which are sorted where they lie. */
function sortFromTop(held: Uint32Array, uvh: Float64Array): void {
  if (held.length > FEW) {
    held.sort((a, b) => uvh[3 * b + 2] - uvh[3 * a + 2]);
    return;
  }
  for (let i = 1; i < held.length; i++) {
    const point = held[i];
    const h = uvh[3 * point + 2];
    let at = i;
    for (; at > 0 && uvh[3 * held[at - 1] + 2] < h; at--) held[at] = held[at - 1];
    held[at] = point;
  }
}

/** Mean number of points in the cells that have any. */
function pointsInUsualCell(starts: Uint32Array, cells: number): number {
  let filled = 0;
  for (let cell = 0; cell < cells; cell++) if (starts[cell + 1] > starts[cell]) filled++;
  return starts[cells] / Math.max(1, filled);
}

/** Of points sorted from the top down, the first run without a gap that holds enough of them. */
function upperLayer(
  held: Uint32Array,
  uvh: Float64Array,
  gap: number,
  needed: number,
): readonly [from: number, to: number] {
  let from = 0;
  for (let i = 1; i < held.length; i++) {
    if (uvh[3 * held[i - 1] + 2] - uvh[3 * held[i] + 2] <= gap) continue;
    if (i - from >= needed) return [from, i];
    from = i;
  }
  return [from, held.length];
}

function addSums(sums: Float64Array, cell: number, held: Uint32Array, points: ProjectedPoints): void {
  const { uvh, side, columns } = points;
  const middleU = ((cell % columns) + 0.5) * side;
  const middleV = (Math.floor(cell / columns) + 0.5) * side;
  const s = SUMS * cell;
  for (const point of held) {
    const u = uvh[3 * point] - middleU;
    const v = uvh[3 * point + 1] - middleV;
    const h = uvh[3 * point + 2];
    sums[s]++;
    sums[s + 1] += u;
    sums[s + 2] += v;
    sums[s + 3] += h;
    sums[s + 4] += u * u;
    sums[s + 5] += u * v;
    sums[s + 6] += v * v;
    sums[s + 7] += u * h;
    sums[s + 8] += v * h;
  }
}

function placeVertex(
  vertices: Float64Array,
  cell: number,
  held: Uint32Array,
  sums: Float64Array,
  points: ProjectedPoints,
  residuals: number[],
): void {
  const { uvh } = points;
  let u = 0;
  let v = 0;
  for (const point of held) {
    u += uvh[3 * point] / held.length;
    v += uvh[3 * point + 1] / held.length;
  }
  const [slopeU, slopeV] = planeSlopes(sums, cell, points);
  const heights = new Float64Array(held.length);
  for (let i = 0; i < held.length; i++) {
    const at = 3 * held[i];
    heights[i] = uvh[at + 2] - slopeU * (uvh[at] - u) - slopeV * (uvh[at + 1] - v);
  }
  const h = medianOf(heights);
  vertices[3 * cell] = u;
  vertices[3 * cell + 1] = v;
  vertices[3 * cell + 2] = h;
  // One point is no scatter; a sample of cells is enough for the figure.
  if (held.length <= 2 || residuals.length >= 200_000) return;
  for (let i = 0; i < heights.length; i++) residuals.push(Math.abs(heights[i] - h));
}

/** Slopes of the least-squares plane through a cell and those of its neighbours that lie near it in height; level without one. */
function planeSlopes(sums: Float64Array, cell: number, { side, columns, rows }: ProjectedPoints): [number, number] {
  const column = cell % columns;
  const row = Math.floor(cell / columns);
  const own = sums[SUMS * cell + 3] / sums[SUMS * cell];
  let n = 0;
  let su = 0;
  let sv = 0;
  let sh = 0;
  let suu = 0;
  let suv = 0;
  let svv = 0;
  let suh = 0;
  let svh = 0;
  for (let dv = row === 0 ? 0 : -1; dv <= (row === rows - 1 ? 0 : 1); dv++) {
    for (let du = column === 0 ? 0 : -1; du <= (column === columns - 1 ? 0 : 1); du++) {
      const s = SUMS * (cell + dv * columns + du);
      const m = sums[s];
      if (m === 0 || Math.abs(sums[s + 3] / m - own) > 2 * LAYER_GAP * side) continue;
      // Moved from the neighbour's middle to ours, heights from our mean.
      const a = du * side;
      const b = dv * side;
      const u = sums[s + 1];
      const v = sums[s + 2];
      const h = sums[s + 3] - m * own;
      const uh = sums[s + 7] - own * u;
      const vh = sums[s + 8] - own * v;
      n += m;
      su += u + m * a;
      sv += v + m * b;
      sh += h;
      suu += sums[s + 4] + 2 * a * u + m * a * a;
      suv += sums[s + 5] + a * v + b * u + m * a * b;
      svv += sums[s + 6] + 2 * b * v + m * b * b;
      suh += uh + a * h;
      svh += vh + b * h;
    }
  }
  const [cuu, cuv, cvv] = [suu - (su * su) / n, suv - (su * sv) / n, svv - (sv * sv) / n];
  const [cuh, cvh] = [suh - (su * sh) / n, svh - (sv * sh) / n];
  const determinant = cuu * cvv - cuv * cuv;
  // Points nearly in a line say nothing about the slope across it.
  if (!(determinant > 1e-3 * (cuu + cvv) ** 2)) return [0, 0];
  return [(cuh * cvv - cvh * cuv) / determinant, (cvh * cuu - cuh * cuv) / determinant];
}

/** Sorts the values. */
function medianOf(sorted: Float64Array): number {
  if (sorted.length === 0) return 0;
  sorted.sort();
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}
