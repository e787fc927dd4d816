import { DisjointSets } from './disjoint-sets.ts';
import { type EdgeTable, nextHalfEdge } from './edge-table.ts';
import { oppositeHalfEdge } from './orient-patches.ts';

/**
 * Lengths of the rims of a mesh, longest first: the outer rim of a scan and every hole in it. Works whichever way faces wind.
 * From each end of a rim edge the fan of faces around that vertex is followed to the next rim edge. So the rims of two sheets that
 * touch at a vertex stay apart, two holes that touch at a vertex count as one, and a rim ends at an edge of three or more faces.
 */
export function boundaryLoopLengths(positions: Float64Array, triangles: Uint32Array, edges: EdgeTable): number[] {
  const sets = new DisjointSets(edges.faceCount.length);
  const length = new Map<number, number>();
  for (let h = 0; h < triangles.length; h++) {
    if (edges.faceCount[edges.edgeOf[h]] !== 1) continue;
    for (const vertex of [triangles[h], triangles[nextHalfEdge(h)]]) {
      const end = followFan(triangles, edges, h, vertex);
      if (end >= 0) sets.join(edges.edgeOf[h], edges.edgeOf[end]);
    }
  }
  for (let h = 0; h < triangles.length; h++) {
    if (edges.faceCount[edges.edgeOf[h]] !== 1) continue;
    const set = sets.find(edges.edgeOf[h]);
    length.set(set, (length.get(set) ?? 0) + edgeLength(positions, triangles[h], triangles[nextHalfEdge(h)]));
  }
  return [...length.values()].sort((a, b) => b - a);
}

/** The half-edge of the rim at the far side of the fan around `vertex`; -1 when an edge of three or more faces stops it. */
function followFan(triangles: Uint32Array, edges: EdgeTable, start: number, vertex: number): number {
  for (let h = start; ; ) {
    const across = otherSideAt(triangles, h, vertex);
    if (edges.faceCount[edges.edgeOf[across]] === 1) return across;
    h = oppositeHalfEdge(edges, across);
    if (h < 0) return -1;
  }
}

/** The other half-edge of the same face that has `vertex` at one of its ends. */
function otherSideAt(triangles: Uint32Array, h: number, vertex: number): number {
  const next = nextHalfEdge(h);
  return triangles[h] === vertex ? nextHalfEdge(next) : next;
}

function edgeLength(p: Float64Array, a: number, b: number): number {
  return Math.hypot(p[3 * a] - p[3 * b], p[3 * a + 1] - p[3 * b + 1], p[3 * a + 2] - p[3 * b + 2]);
}
