import type { Cells } from './mesh-from-points-thin.ts';
import type { TriangleMesh } from './triangle-mesh.ts';

/** Rise between joined vertices, in cells, that is taken for a cliff between two things: about 79 degrees. */
const STEEPEST_RISE = 5;

/**
 * Joins the vertices of every four cells about a corner: two triangles when all four are filled, one when three are. Each vertex
 * stays within its cell, so the four stand round the corner in order and at least one diagonal leaves both triangles facing up;
 * where both do, the shorter one is taken.
 * @returns vertices that a triangle uses, in the projected frame.
 */
export function netTriangles(cells: Cells): TriangleMesh {
  const { columns, rows } = cells;
  const triangles: number[] = [];
  for (let row = 0; row + 1 < rows; row++) {
    for (let column = 0; column + 1 < columns; column++) {
      const corner = row * columns + column;
      addQuad(cells, [corner, corner + 1, corner + columns + 1, corner + columns], triangles);
    }
  }
  return compacted(cells.vertices, triangles);
}

function addQuad(cells: Cells, quad: readonly number[], out: number[]): void {
  const [a, b, c, d] = quad;
  const filled = quad.filter((cell) => !Number.isNaN(cells.vertices[3 * cell]));
  if (filled.length === 3) addTriangle(cells, filled[0], filled[1], filled[2], out);
  if (filled.length < 4) return;
  const p = cells.vertices;
  const alongAc = Math.min(doubleArea(p, a, b, c), doubleArea(p, a, c, d));
  const alongBd = Math.min(doubleArea(p, a, b, d), doubleArea(p, b, c, d));
  const bothWays = alongAc > 0 && alongBd > 0;
  if (bothWays ? distance(p, a, c) <= distance(p, b, d) : alongAc >= alongBd) {
    addTriangle(cells, a, b, c, out);
    addTriangle(cells, a, c, d, out);
  } else {
    addTriangle(cells, a, b, d, out);
    addTriangle(cells, b, c, d, out);
  }
}

/** Left out when it would face down or stand like a cliff. */
function addTriangle(cells: Cells, a: number, b: number, c: number, out: number[]): void {
  const p = cells.vertices;
  const heights = [p[3 * a + 2], p[3 * b + 2], p[3 * c + 2]];
  const rise = Math.max(...heights) - Math.min(...heights);
  if (doubleArea(p, a, b, c) > 0 && rise <= STEEPEST_RISE * cells.side) out.push(a, b, c);
}

function doubleArea(p: Float64Array, a: number, b: number, c: number): number {
  const [u, v] = [p[3 * a], p[3 * a + 1]];
  return (p[3 * b] - u) * (p[3 * c + 1] - v) - (p[3 * b + 1] - v) * (p[3 * c] - u);
}

function distance(p: Float64Array, a: number, b: number): number {
  return Math.hypot(p[3 * a] - p[3 * b], p[3 * a + 1] - p[3 * b + 1], p[3 * a + 2] - p[3 * b + 2]);
}

function compacted(vertices: Float64Array, cells: readonly number[]): TriangleMesh {
  const numberOf = new Int32Array(vertices.length / 3).fill(-1);
  for (const cell of cells) numberOf[cell] = 0;
  let count = 0;
  for (let cell = 0; cell < numberOf.length; cell++) if (numberOf[cell] === 0) numberOf[cell] = count++;
  const positions = new Float64Array(3 * count);
  for (let cell = 0; cell < numberOf.length; cell++) {
    if (numberOf[cell] >= 0) positions.set(vertices.subarray(3 * cell, 3 * cell + 3), 3 * numberOf[cell]);
  }
  return { positions, triangles: Uint32Array.from(cells, (cell) => numberOf[cell]) };
}
