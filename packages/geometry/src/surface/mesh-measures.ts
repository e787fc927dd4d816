import { buildEdgeTable, nextHalfEdge } from './edge-table.ts';
import type { TriangleMesh } from './triangle-mesh.ts';

/** Sum of the areas of all faces, mm2 for a mesh in mm. */
export function meshAreaMm2({ positions, triangles }: TriangleMesh): number {
  let area = 0;
  const vector = new Float64Array(3);
  for (let i = 0; i < triangles.length; i += 3) {
    areaVector(positions, triangles[i], triangles[i + 1], triangles[i + 2], vector);
    area += Math.sqrt(vector[0] * vector[0] + vector[1] * vector[1] + vector[2] * vector[2]);
  }
  return area;
}

/** Normal of the face a b c times its area, into `out`. */
export function areaVector(p: Float64Array, a: number, b: number, c: number, out: Float64Array): void {
  const ux = p[3 * b] - p[3 * a];
  const uy = p[3 * b + 1] - p[3 * a + 1];
  const uz = p[3 * b + 2] - p[3 * a + 2];
  const vx = p[3 * c] - p[3 * a];
  const vy = p[3 * c + 1] - p[3 * a + 1];
  const vz = p[3 * c + 2] - p[3 * a + 2];
  out[0] = (uy * vz - uz * vy) / 2;
  out[1] = (uz * vx - ux * vz) / 2;
  out[2] = (ux * vy - uy * vx) / 2;
}

export interface MeshBounds {
  /** Lowest and highest x, y, z; Infinity and -Infinity for a mesh without vertices. */
  readonly min: readonly [number, number, number];
  readonly max: readonly [number, number, number];
}

/** Bounding box of all vertices, whether a face uses them or not. */
export function meshBounds({ positions }: TriangleMesh): MeshBounds {
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (let k = 0; k < 3; k++) {
    for (let i = k; i < positions.length; i += 3) {
      if (positions[i] < min[k]) min[k] = positions[i];
      if (positions[i] > max[k]) max[k] = positions[i];
    }
  }
  return { min, max };
}

/** Median length of the faces' edges, from an even sample of at most `samples` of them; NaN for a mesh without faces. */
export function medianEdgeLength({ positions: p, triangles }: TriangleMesh, samples = 30_000): number {
  // A step that isn't a multiple of three looks at all three edges in turn.
  let step = Math.max(1, Math.ceil(triangles.length / samples));
  if (step > 1 && step % 3 === 0) step++;
  const lengths: number[] = [];
  for (let h = 0; h < triangles.length; h += step) {
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextHalfEdge(h)];
    lengths.push(Math.hypot(p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]));
  }
  const sorted = Float64Array.from(lengths).sort();
  const middle = sorted.length >> 1;
  if (sorted.length === 0) return Number.NaN;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

/** 3m flags: 1 at 3 t + k when only triangle t has the edge from its corner k to the next one. Vertices must be welded first. */
export function boundaryEdges({ triangles }: TriangleMesh): Uint8Array {
  const { edgeOf, faceCount } = buildEdgeTable(triangles);
  const flags = new Uint8Array(triangles.length);
  for (let h = 0; h < flags.length; h++) flags[h] = faceCount[edgeOf[h]] === 1 ? 1 : 0;
  return flags;
}
