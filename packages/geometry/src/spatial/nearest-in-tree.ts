import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { TriangleTree } from './build-triangle-tree.ts';
import { closestPointOnTriangle } from './closest-point-on-triangle.ts';

/** What a nearest-point query found; owned by the caller and filled anew by each query. */
export interface NearestHit {
  /** Triangle number, -1 when the tree is empty or the point is not finite. */
  triangle: number;
  /** Feature as in closest-point-on-triangle.ts. */
  feature: number;
  x: number;
  y: number;
  z: number;
  squaredDistance: number;
}

export type NearestQuery = (px: number, py: number, pz: number, hit: NearestHit) => void;

export function createNearestHit(): NearestHit {
  return { triangle: -1, feature: 0, x: 0, y: 0, z: 0, squaredDistance: Number.POSITIVE_INFINITY };
}

/** A nearest-point query with its own stack; the near child first, by squared distance to the boxes. */
export function createNearestQuery(mesh: TriangleMesh, tree: TriangleTree): NearestQuery {
  const { positions, triangles } = mesh;
  const { bounds, second, start, count, order } = tree;
  const stackNode = new Int32Array(tree.depth + 2);
  const stackSquare = new Float64Array(tree.depth + 2);
  const found = new Float64Array(4);

  return (px, py, pz, hit) => {
    hit.triangle = -1;
    hit.feature = 0;
    hit.squaredDistance = Number.POSITIVE_INFINITY;
    if (order.length === 0 || !Number.isFinite(px + py + pz)) return;
    let best = Number.POSITIVE_INFINITY;
    let top = 0;
    stackNode[0] = 0;
    stackSquare[0] = 0;
    while (top >= 0) {
      const square = stackSquare[top];
      let node = stackNode[top--];
      if (square >= best) continue;
      while (second[node] !== 0) {
        const one = node + 1;
        const two = second[node];
        const toOne = squareToBox(bounds, 6 * one, px, py, pz);
        const toTwo = squareToBox(bounds, 6 * two, px, py, pz);
        const near = toOne <= toTwo ? one : two;
        const far = toOne <= toTwo ? two : one;
        const farSquare = Math.max(toOne, toTwo);
        if (farSquare < best) {
          top++;
          stackNode[top] = far;
          stackSquare[top] = farSquare;
        }
        node = near;
      }
      if (squareToBox(bounds, 6 * node, px, py, pz) >= best) continue;
      const end = start[node] + count[node];
      for (let i = start[node]; i < end; i++) {
        const t = 3 * order[i];
        const a = 3 * triangles[t];
        const b = 3 * triangles[t + 1];
        const c = 3 * triangles[t + 2];
        const feature = closestPointOnTriangle(positions, a, b, c, px, py, pz, found);
        if (found[3] < best) {
          best = found[3];
          hit.triangle = order[i];
          hit.feature = feature;
          hit.x = found[0];
          hit.y = found[1];
          hit.z = found[2];
        }
      }
    }
    hit.squaredDistance = best;
  };
}

function squareToBox(bounds: Float32Array, at: number, px: number, py: number, pz: number): number {
  const x = Math.max(bounds[at] - px, 0, px - bounds[at + 3]);
  const y = Math.max(bounds[at + 1] - py, 0, py - bounds[at + 4]);
  const z = Math.max(bounds[at + 2] - pz, 0, pz - bounds[at + 5]);
  return x * x + y * y + z * z;
}
