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

type Join = (cell: number, a: readonly number[], b: readonly number[]) => void;

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
  traceContour(grid, level, (cell, a, b) => addRibbon(grid, cell, a, b, widthMm, out));
}

/** Adds the line of one level as bare segments, which are drawn one pixel wide at any distance. */
export function addFineContour(grid: ContourGrid, level: number, out: Segments): void {
  traceContour(grid, level, (_, a, b) => {
    if (6 * out.count + 6 > out.positions.length) return;
    for (let c = 0; c < 3; c++) {
      out.positions[6 * out.count + c] = a[c]!;
      out.positions[6 * out.count + 3 + c] = b[c]!;
    }
    out.count++;
  });
}

function traceContour(grid: ContourGrid, level: number, join: Join): void {
  const { rows, columns, values: v } = grid;
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
      crossCell(grid, [a, b, c, d], level, join);
    }
  }
}

/** Marching squares in one cell; the saddle is cut as its middle lies. */
function crossCell(grid: ContourGrid, corners: readonly number[], level: number, join: Join): void {
  const { values: v } = grid;
  const crossings: number[][] = [];
  for (let k = 0; k < 4; k++) {
    const p = corners[k]!;
    const q = corners[(k + 1) % 4]!;
    if (v[p]! < level === v[q]! < level) continue;
    crossings.push(between(grid, p, q, (level - v[p]!) / (v[q]! - v[p]!)));
  }
  if (crossings.length === 2) join(corners[0]!, crossings[0]!, crossings[1]!);
  if (crossings.length !== 4) return;
  const middle = corners.reduce((sum, k) => sum + v[k]!, 0) / 4;
  const turned = v[corners[0]!]! < level === middle < level ? 1 : 0;
  for (const first of [turned, turned + 2]) join(corners[0]!, crossings[first]!, crossings[(first + 1) % 4]!);
}

function between({ positions }: ContourGrid, p: number, q: number, share: number): number[] {
  return [0, 1, 2].map((c) => positions[3 * p + c]! + share * (positions[3 * q + c]! - positions[3 * p + c]!));
}

/** A quad from a to b, `widthMm` wide, square to the surface's normal at a cell. */
export function addRibbon(
  { normals }: Pick<ContourGrid, 'normals'>,
  cell: number,
  a: readonly number[],
  b: readonly number[],
  widthMm: number,
  out: Ribbons,
): void {
  const at = 12 * out.count;
  if (at + 12 > out.positions.length) return;
  const [nx, ny, nz] = [normals[3 * cell]!, normals[3 * cell + 1]!, normals[3 * cell + 2]!];
  const [dx, dy, dz] = [b[0]! - a[0]!, b[1]! - a[1]!, b[2]! - a[2]!];
  const s = [ny * dz - nz * dy, nz * dx - nx * dz, nx * dy - ny * dx];
  const size = Math.hypot(s[0]!, s[1]!, s[2]!);
  if (size === 0) return;
  for (let c = 0; c < 3; c++) {
    const half = (s[c]! / size) * (widthMm / 2);
    out.positions[at + c] = a[c]! - half;
    out.positions[at + 3 + c] = a[c]! + half;
    out.positions[at + 6 + c] = b[c]! + half;
    out.positions[at + 9 + c] = b[c]! - half;
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
