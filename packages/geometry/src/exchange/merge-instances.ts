import type { Matrix4 } from '../numeric/rigid-motion.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { MAX_COORDINATE, type ReadLimits } from './raw-mesh.ts';
import { checkTriangleCount, refuse, refuseCoordinate } from './refuse.ts';

/** One mesh of a file, placed once. */
export interface Instance {
  readonly mesh: TriangleMesh;
  /** Row-major, p' = M p, last row 0 0 0 1. */
  readonly matrix: Matrix4;
  /** Which part of the file placed it, for refusals. */
  readonly place: string;
}

/** How much larger the placed whole may be than what the file stores, beyond the first million vertices. */
const MOST_COPIES = 16;
const FREE_VERTICES = 1_000_000;
/** Volume that a matrix leaves of a box along its columns; below this the box counts as flat. */
const FLAT = 1e-9;

/**
 * Carries every instance by its matrix and joins them all into one mesh; a mirroring matrix turns its triangles round, so that they
 * stay counter-clockwise seen from outside. Counts are summed and checked before memory is taken: a small file can place one part
 * a million times.
 * @throws InputError too-large, degenerate (a matrix that flattens), not-a-number, out-of-range.
 */
export function mergeInstances(instances: readonly Instance[], limits: ReadLimits): TriangleMesh {
  const { vertices, corners } = countAll(instances, limits);
  const positions = new Float64Array(3 * vertices);
  const triangles = new Uint32Array(corners);
  let vertex = 0;
  let corner = 0;
  for (const { mesh, matrix, place } of instances) {
    const mirrored = isMirrored(matrix, place);
    carry(mesh.positions, matrix, positions, 3 * vertex, place);
    for (let i = 0; i < mesh.triangles.length; i += 3) {
      triangles[corner++] = vertex + mesh.triangles[i];
      triangles[corner++] = vertex + mesh.triangles[mirrored ? i + 2 : i + 1];
      triangles[corner++] = vertex + mesh.triangles[mirrored ? i + 1 : i + 2];
    }
    vertex += mesh.positions.length / 3;
  }
  return { positions, triangles };
}

function countAll(instances: readonly Instance[], limits: ReadLimits): { vertices: number; corners: number } {
  const stored = [...new Set(instances.map(({ mesh }) => mesh))].reduce((n, mesh) => n + mesh.positions.length / 3, 0);
  let vertices = 0;
  let corners = 0;
  for (const { mesh, place } of instances) {
    vertices += mesh.positions.length / 3;
    corners += mesh.triangles.length;
    checkTriangleCount(corners / 3, limits, place);
    checkTriangleCount(vertices / 3, limits, place);
    if (vertices <= Math.max(FREE_VERTICES, MOST_COPIES * stored)) continue;
    const expected = `parts placed fewer times: ${stored} stored vertices`;
    refuse('too-large', place, `${vertices} placed vertices`, expected, 'Export the scan alone, without copies.');
  }
  return { vertices, corners };
}

/** True when the matrix mirrors; refuses one that flattens, since what it leaves has no inside or outside. */
function isMirrored(m: Matrix4, place: string): boolean {
  const determinant =
    m[0] * (m[5] * m[10] - m[6] * m[9]) - m[1] * (m[4] * m[10] - m[6] * m[8]) + m[2] * (m[4] * m[9] - m[5] * m[8]);
  const box = [0, 1, 2].reduce((volume, k) => volume * Math.hypot(m[k], m[4 + k], m[8 + k]), 1);
  if (!(Math.abs(determinant) > FLAT * box)) {
    const remedy = 'Leave that part out, or apply its transform in the program that made it.';
    refuse('degenerate', place, `determinant ${determinant}`, 'a transform that flattens nothing', remedy);
  }
  return determinant < 0;
}

function carry(from: Float64Array, m: Matrix4, to: Float64Array, at: number, place: string): void {
  for (let i = 0; i < from.length; i += 3) {
    const x = m[0] * from[i] + m[1] * from[i + 1] + m[2] * from[i + 2] + m[3];
    const y = m[4] * from[i] + m[5] * from[i + 1] + m[6] * from[i + 2] + m[7];
    const z = m[8] * from[i] + m[9] * from[i + 1] + m[10] * from[i + 2] + m[11];
    const fits = Math.abs(x) <= MAX_COORDINATE && Math.abs(y) <= MAX_COORDINATE && Math.abs(z) <= MAX_COORDINATE;
    if (!fits) refuseCoordinate(`${place}, vertex ${i / 3}`, x, y, z);
    to[at + i] = x;
    to[at + i + 1] = y;
    to[at + i + 2] = z;
  }
}
