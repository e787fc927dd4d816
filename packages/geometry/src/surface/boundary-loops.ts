import { DisjointSets } from './disjoint-sets.ts';
import { type EdgeTable, nextHalfEdge } from './edge-table.ts';
import { oppositeHalfEdge } from './orient-patches.ts';

/**
 * Lengths of the rims of a mesh, longest first: the outer rim of a scan and every hole in it. Works whichever way faces wind.
 * From each end of a rim edge the fan of faces around that vertex is followed to the next rim edge. So the rims of two sheets that
 * touch at a vertex stay apart, two holes that touch at a vertex count as one, and a rim ends at an edge of three or more faces.
 */
export function boundaryLoopLengths(positions: Float64Array, triangles: Uint32Array, edges: EdgeTable): number[] {
  const rim = rimHalfEdges(edges);
  const placeOf = new Map<number, number>();
  for (let n = 0; n < rim.length; n++) placeOf.set(rim[n], n);
  const sets = new DisjointSets(rim.length);
  for (let n = 0; n < rim.length; n++) {
    for (const vertex of [triangles[rim[n]], triangles[nextHalfEdge(rim[n])]]) {
      const end = followFan(triangles, edges, rim[n], vertex);
      if (end >= 0) sets.join(n, placeOf.get(end)!);
    }
  }
  const length = new Map<number, number>();
  for (let n = 0; n < rim.length; n++) {
    const set = sets.find(n);
    const along = edgeLength(positions, triangles[rim[n]], triangles[nextHalfEdge(rim[n])]);
    length.set(set, (length.get(set) ?? 0) + along);
  }
  return [...length.values()].sort((a, b) => b - a);
}

function rimHalfEdges({ edgeOf, faceCount, opposite }: EdgeTable): Int32Array {
  const isRim = (h: number): boolean => opposite[h] < 0 && faceCount[edgeOf[h]] === 1;
  let count = 0;
  for (let h = 0; h < opposite.length; h++) if (isRim(h)) count++;
  const rim = new Int32Array(count);
  for (let h = 0, n = 0; n < count; h++) if (isRim(h)) rim[n++] = h;
  return rim;
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
