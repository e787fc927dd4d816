import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { buildPlanGrid, type PlanGrid } from './build-plan-grid.ts';

/** Ways to find triangles of a mesh by place, each made when it is first asked for. */
export interface TriangleTree {
  /** For nearest points. */
  readonly boxes: BoxTree;
  /** For looking straight down. */
  readonly plan: PlanGrid;
}

/** Nothing is built before a query needs it; the mesh must not change meanwhile. */
export function buildTriangleTree(mesh: TriangleMesh): TriangleTree {
  let boxes: BoxTree | undefined;
  let plan: PlanGrid | undefined;
  return {
    get boxes() {
      boxes ??= buildBoxTree(mesh);
      return boxes;
    },
    get plan() {
      plan ??= buildPlanGrid(mesh);
      return plan;
    },
  };
}

/**
 * Bounding-volume tree over the triangles of a mesh, flat. Node 0 is the root; a node's first child follows it, its
 * second is at `second[node]`. Where `second` is 0 the node is a leaf and holds order[start ... start + count).
 */
export interface BoxTree {
  /** 6 per node: min x y z, max x y z, rounded outward to single precision. */
  readonly bounds: Float32Array;
  readonly second: Uint32Array;
  readonly start: Uint32Array;
  readonly count: Uint32Array;
  /** Triangle numbers, leaf by leaf; triangles without an area are left out. */
  readonly order: Uint32Array;
  readonly nodes: number;
  readonly depth: number;
}

const LEAF_SIZE = 4;
/** An area this small against the square of the longest edge gives no usable normal. */
const SLIVER = 1e-12;

/** Splits at the middle of the longest side of the centroids' box, at the median count when that leaves one side empty. */
export function buildBoxTree(mesh: TriangleMesh): BoxTree {
  const order = soundTriangles(mesh);
  const centroids = centroidsOf(mesh);
  const capacity = Math.max(1, 2 * order.length);
  const second = new Uint32Array(capacity);
  const start = new Uint32Array(capacity);
  const count = new Uint32Array(capacity);
  // Pending nodes: parent that waits for its second child (or -1), first, end, depth.
  const pending: number[] = [-1, 0, order.length, 1];
  let nodes = 0;
  let deepest = 0;
  while (pending.length > 0) {
    const depth = pending.pop()!;
    const end = pending.pop()!;
    const first = pending.pop()!;
    const parent = pending.pop()!;
    const node = nodes++;
    deepest = Math.max(deepest, depth);
    if (parent >= 0) second[parent] = node;
    start[node] = first;
    count[node] = end - first;
    if (end - first <= LEAF_SIZE) continue;
    const middle = split(order, centroids, first, end);
    pending.push(node, middle, end, depth + 1);
    pending.push(-1, first, middle, depth + 1);
  }
  const tree = {
    second: second.slice(0, nodes),
    start: start.slice(0, nodes),
    count: count.slice(0, nodes),
    bounds: new Float32Array(6 * nodes),
    order,
    nodes,
    depth: deepest,
  };
  fillBounds(tree, mesh);
  return tree;
}

function soundTriangles(mesh: TriangleMesh): Uint32Array {
  const kept = new Uint32Array(mesh.triangles.length / 3);
  let n = 0;
  for (let t = 0; t < kept.length; t++) if (hasArea(mesh, t)) kept[n++] = t;
  return kept.slice(0, n);
}

/** Whether a triangle has a usable normal. */
export function hasArea({ positions: p, triangles }: TriangleMesh, triangle: number): boolean {
  const a = 3 * triangles[3 * triangle];
  const b = 3 * triangles[3 * triangle + 1];
  const c = 3 * triangles[3 * triangle + 2];
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const longest = Math.max(ux * ux + uy * uy + uz * uz, vx * vx + vy * vy + vz * vz);
  // NaN fails as well.
  return Math.sqrt(nx * nx + ny * ny + nz * nz) > SLIVER * longest;
}

function centroidsOf(mesh: TriangleMesh): Float32Array {
  const { positions: p, triangles } = mesh;
  const centroids = new Float32Array(triangles.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const c = 3 * triangles[t + 2];
    for (let axis = 0; axis < 3; axis++) centroids[t + axis] = (p[a + axis] + p[b + axis] + p[c + axis]) / 3;
  }
  return centroids;
}

/** Reorders order[first, end) into two non-empty parts and returns where the second begins. */
function split(order: Uint32Array, centroids: Float32Array, first: number, end: number): number {
  let axis = 0;
  let widest = -1;
  let middle = 0;
  for (let k = 0; k < 3; k++) {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let i = first; i < end; i++) {
      const value = centroids[3 * order[i] + k];
      if (value < low) low = value;
      if (value > high) high = value;
    }
    if (high - low > widest) {
      widest = high - low;
      axis = k;
      middle = 0.5 * (low + high);
    }
  }
  let i = first;
  let j = end;
  while (i < j) {
    if (centroids[3 * order[i] + axis] < middle) {
      i++;
    } else {
      j--;
      const swap = order[i];
      order[i] = order[j];
      order[j] = swap;
    }
  }
  if (i > first && i < end) return i;
  order.subarray(first, end).sort((m, n) => centroids[3 * m + axis] - centroids[3 * n + axis]);
  return (first + end) >>> 1;
}

/** From the leaves up: children come after their parent. */
function fillBounds(tree: BoxTree, mesh: TriangleMesh): void {
  const { positions: p, triangles } = mesh;
  const { bounds, second, start, count, order } = tree;
  for (let node = tree.nodes - 1; node >= 0; node--) {
    const at = 6 * node;
    if (second[node] !== 0) {
      const one = 6 * (node + 1);
      const two = 6 * second[node];
      for (let k = 0; k < 3; k++) {
        bounds[at + k] = Math.min(bounds[one + k], bounds[two + k]);
        bounds[at + 3 + k] = Math.max(bounds[one + 3 + k], bounds[two + 3 + k]);
      }
      continue;
    }
    for (let k = 0; k < 3; k++) {
      let low = Number.POSITIVE_INFINITY;
      let high = Number.NEGATIVE_INFINITY;
      for (let i = start[node]; i < start[node] + count[node]; i++) {
        for (let corner = 0; corner < 3; corner++) {
          const value = p[3 * triangles[3 * order[i] + corner] + k];
          if (value < low) low = value;
          if (value > high) high = value;
        }
      }
      // One part in 2^23 outward covers the rounding to single precision.
      bounds[at + k] = low - Math.abs(low) * 2 ** -23;
      bounds[at + 3 + k] = high + Math.abs(high) * 2 ** -23;
    }
  }
}
