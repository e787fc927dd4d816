import { scramble } from './exact-welder.ts';

/** The edges of a mesh. Half-edge h = 3 t + k runs from corner k of triangle t to the next corner. */
export interface EdgeTable {
  /** Edge of each half-edge, 3m. */
  readonly edgeOf: Int32Array;
  /** Number of half-edges on each edge: 1 on the rim, 2 inside, more where sheets meet. */
  readonly faceCount: Int32Array;
  /** Sum of the half-edges on each edge: with two of them, sum - h is the other one. */
  readonly halfEdgeSum: Float64Array;
}

/** Finds the edges of an indexed mesh in one pass over a hash table; linear time whatever the valence. */
export function buildEdgeTable(triangles: Uint32Array): EdgeTable {
  const halfEdges = triangles.length;
  const slots = new Int32Array(2 ** Math.ceil(Math.log2(Math.max(2, 2 * halfEdges)))).fill(-1);
  const mask = slots.length - 1;
  const edgeOf = new Int32Array(halfEdges);
  const first = new Int32Array(halfEdges);
  const faceCount = new Int32Array(halfEdges);
  const halfEdgeSum = new Float64Array(halfEdges);
  let edges = 0;
  for (let h = 0; h < halfEdges; h++) {
    const a = triangles[h];
    const b = triangles[nextHalfEdge(h)];
    const low = Math.min(a, b);
    const high = Math.max(a, b);
    let slot = scramble(Math.imul(low, 0x9e3779b1) ^ high) & mask;
    let edge = slots[slot];
    for (; edge >= 0; slot = (slot + 1) & mask, edge = slots[slot]) {
      const c = triangles[first[edge]];
      const d = triangles[nextHalfEdge(first[edge])];
      if (Math.min(c, d) === low && Math.max(c, d) === high) break;
    }
    if (edge < 0) {
      edge = edges++;
      slots[slot] = edge;
      first[edge] = h;
    }
    edgeOf[h] = edge;
    faceCount[edge]++;
    halfEdgeSum[edge] += h;
  }
  return { edgeOf, faceCount: faceCount.subarray(0, edges), halfEdgeSum: halfEdgeSum.subarray(0, edges) };
}

/** The half-edge after h within its triangle. */
export function nextHalfEdge(h: number): number {
  return h % 3 === 2 ? h - 2 : h + 1;
}
