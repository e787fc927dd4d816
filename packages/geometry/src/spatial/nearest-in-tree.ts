import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { cellOf, type PlanGrid } from './build-plan-grid.ts';
import { type BoxTree, hasArea, type TriangleTree } from './build-triangle-tree.ts';
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

/** So many queries are answered from the grid; building the tree takes as long as some thousand of them. */
const FEW = 16;

/** A nearest-point query: the first few from the triangles' grid, further ones from their tree of boxes. */
export function createNearestQuery(mesh: TriangleMesh, tree: TriangleTree): NearestQuery {
  let answered = 0;
  let query: NearestQuery | undefined;
  return (px, py, pz, hit) => {
    if (answered < FEW) query ??= queryInPlan(mesh, tree.plan);
    else if (answered === FEW) query = queryInBoxes(mesh, tree.boxes);
    answered++;
    query!(px, py, pz, hit);
  };
}

/**
 * Rings of cells outward from the one below the point. What no ring so far holds lies outside their square, so it is at least as
 * far as the square's rim seen from the nearest point of the grid, and that point's own distance on top.
 */
function queryInPlan(mesh: TriangleMesh, plan: PlanGrid): NearestQuery {
  const { positions, triangles } = mesh;
  const { x0, y0, cell, ni, nj, offset, list } = plan;
  const found = new Float64Array(4);
  return (px, py, pz, hit) => {
    hit.triangle = -1;
    hit.feature = 0;
    hit.squaredDistance = Number.POSITIVE_INFINITY;
    if (list.length === 0 || !Number.isFinite(px + py + pz)) return;
    const look = (i: number, j: number): void => {
      const k = i * nj + j;
      for (let n = offset[k]; n < offset[k + 1]; n++) {
        const t = 3 * list[n];
        const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
        const feature = closestPointOnTriangle(positions, a, b, c, px, py, pz, found);
        if (!(found[3] < hit.squaredDistance) || !hasArea(mesh, list[n])) continue;
        hit.squaredDistance = found[3];
        hit.triangle = list[n];
        hit.feature = feature;
        [hit.x, hit.y, hit.z] = found;
      }
    };
    const qx = Math.min(Math.max(px, x0), x0 + ni * cell);
    const qy = Math.min(Math.max(py, y0), y0 + nj * cell);
    const outside = (px - qx) ** 2 + (py - qy) ** 2;
    const i0 = cellOf(qx, x0, 1 / cell, ni);
    const j0 = cellOf(qy, y0, 1 / cell, nj);
    // The last cell of a row is held to be as wide as the others; a hair less is promised than that.
    const room =
      0.999 * Math.min(qx - x0 - i0 * cell, x0 + (i0 + 1) * cell - qx, qy - y0 - j0 * cell, y0 + (j0 + 1) * cell - qy);
    for (let ring = 0; ring < Math.max(ni, nj); ring++) {
      const rim = Math.max(0, room) + (ring - 1) * 0.999 * cell;
      if (ring > 0 && outside + Math.max(0, rim) ** 2 > hit.squaredDistance) break;
      for (let i = Math.max(0, i0 - ring); i <= Math.min(ni - 1, i0 + ring); i++) {
        const whole = Math.abs(i - i0) === ring;
        for (let j = j0 - ring; j <= j0 + ring; j += whole || ring === 0 ? 1 : 2 * ring)
          if (j >= 0 && j < nj) look(i, j);
      }
    }
  };
}

/** With its own stack; the near child first, by squared distance to the boxes. */
function queryInBoxes(mesh: TriangleMesh, tree: BoxTree): NearestQuery {
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
