/** Quads of lines drawn on a surface, kept from frame to frame and filled anew: 12 numbers each. */
export interface Ribbons {
  readonly positions: Float32Array;
  /** Quads in use. */
  count: number;
}

/** Bare line segments, 6 numbers each. */
export interface Segments {
  readonly positions: Float32Array;
  /** Segments in use. */
  count: number;
}

export const createRibbons = (most: number): Ribbons => ({ positions: new Float32Array(12 * most), count: 0 });
export const createSegments = (most: number): Segments => ({ positions: new Float32Array(6 * most), count: 0 });

/** Joins the points that begin at two places of `points`. */
type Join = (cell: number, points: ArrayLike<number>, from: number, to: number) => void;

export interface ContourGrid {
  readonly rows: number;
  readonly columns: number;
  /** 3n cell centres and normals. */
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  readonly values: Float32Array;
}

/** Adds the line of one level over the grid as ribbons of a width in mm lying in the surface. Cells next to NaN stay open. */
export function addBoldContour(grid: ContourGrid, level: number, widthMm: number, out: Ribbons): void {
  traceContour(grid, level, (cell, points, from, to) => addRibbon(grid, cell, points, from, to, widthMm, out));
}

/** Adds the line of one level as bare segments, which are drawn one pixel wide at any distance. */
export function addFineContour(grid: ContourGrid, level: number, out: Segments): void {
  traceContour(grid, level, (_, points, from, to) => {
    const at = 6 * out.count;
    if (at + 6 > out.positions.length) return;
    for (let c = 0; c < 3; c++) {
      out.positions[at + c] = points[from + c]!;
      out.positions[at + 3 + c] = points[to + c]!;
    }
    out.count++;
  });
}

function traceContour(grid: ContourGrid, level: number, join: Join): void {
  const { rows, columns, values: v } = grid;
  const crossings = new Float64Array(12);
  for (let i = 0; i + 1 < rows; i++) {
    for (let j = 0; j + 1 < columns; j++) {
      const a = i * columns + j;
      const b = a + 1;
      const c = a + columns + 1;
      const d = a + columns;
      const low = Math.min(v[a]!, v[b]!, v[c]!, v[d]!);
      const high = Math.max(v[a]!, v[b]!, v[c]!, v[d]!);
      // A comparison with NaN is false, so cells with a corner off the data fall out here.
      if (!(low < level && high >= level)) continue;
      const sum = v[a]! + v[b]! + v[c]! + v[d]!;
      const count = crossEdges(grid, a, b, c, d, level, crossings);
      if (count === 2) join(a, crossings, 0, 3);
      if (count !== 4) continue;
      // A saddle: its middle says which corners belong together.
      const turned = v[a]! < level === sum / 4 < level ? 1 : 0;
      join(a, crossings, 3 * turned, 3 * turned + 3);
      join(a, crossings, (3 * turned + 6) % 12, (3 * turned + 9) % 12);
    }
  }
}

/** Where the level crosses a cell's edges, in their order round it, 3 numbers each. Returns how many. */
function crossEdges(
  grid: ContourGrid,
  a: number,
  b: number,
  c: number,
  d: number,
  level: number,
  out: Float64Array,
): number {
  let count = 0;
  if (crossEdge(grid, a, b, level, out, count)) count++;
  if (crossEdge(grid, b, c, level, out, count)) count++;
  if (crossEdge(grid, c, d, level, out, count)) count++;
  if (crossEdge(grid, d, a, level, out, count)) count++;
  return count;
}

function crossEdge(
  { positions, values }: ContourGrid,
  p: number,
  q: number,
  level: number,
  out: Float64Array,
  place: number,
): boolean {
  const from = values[p]!;
  const to = values[q]!;
  if (from < level === to < level) return false;
  const share = (level - from) / (to - from);
  for (let k = 0; k < 3; k++)
    out[3 * place + k] = positions[3 * p + k]! + share * (positions[3 * q + k]! - positions[3 * p + k]!);
  return true;
}

/** A quad between two points of `points`, `widthMm` wide, square to the surface's normal at a cell. */
export function addRibbon(
  { normals }: Pick<ContourGrid, 'normals'>,
  cell: number,
  points: ArrayLike<number>,
  from: number,
  to: number,
  widthMm: number,
  out: Ribbons,
): void {
  const at = 12 * out.count;
  if (at + 12 > out.positions.length) return;
  const nx = normals[3 * cell]!;
  const ny = normals[3 * cell + 1]!;
  const nz = normals[3 * cell + 2]!;
  const dx = points[to]! - points[from]!;
  const dy = points[to + 1]! - points[from + 1]!;
  const dz = points[to + 2]! - points[from + 2]!;
  const sx = ny * dz - nz * dy;
  const sy = nz * dx - nx * dz;
  const sz = nx * dy - ny * dx;
  const size = Math.sqrt(sx * sx + sy * sy + sz * sz);
  if (size === 0) return;
  const half = widthMm / 2 / size;
  for (let c = 0; c < 3; c++) {
    const side = half * (c === 0 ? sx : c === 1 ? sy : sz);
    out.positions[at + c] = points[from + c]! - side;
    out.positions[at + 3 + c] = points[from + c]! + side;
    out.positions[at + 6 + c] = points[to + c]! + side;
    out.positions[at + 9 + c] = points[to + c]! - side;
  }
  out.count++;
}

/** Indices for as many quads as a ribbon store can hold. */
export function ribbonTriangles(most: number): Uint32Array {
  const out = new Uint32Array(6 * most);
  for (let q = 0; q < most; q++)
    out.set(
      [0, 1, 2, 0, 2, 3].map((k) => 4 * q + k),
      6 * q,
    );
  return out;
}
