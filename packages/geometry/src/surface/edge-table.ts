import { scramble } from './exact-welder.ts';

/** The edges of a mesh. Half-edge h = 3 t + k runs from corner k of triangle t to the next corner. */
export interface EdgeTable {
  /** Edge of each half-edge, 3m; edges are numbered as they first appear. */
  readonly edgeOf: Int32Array;
  /** Number of half-edges on each edge: 1 on the rim, 2 inside, more where sheets meet (255 stands for any more). */
  readonly faceCount: Uint8Array;
  /** The other half-edge of an edge that exactly two faces share, 3m; -1 on a rim or where more meet. */
  readonly opposite: Int32Array;
}

/** Edges looked through at one vertex before the search goes over to a hash table. */
const MOST_AT_A_VERTEX = 64;

/**
 * Finds the edges of an indexed mesh; linear time whatever the valence. Each edge hangs on the lower of its two vertices: scanners
 * number neighbours alike, so that the few edges looked through are in the cache. A mesh with a vertex of very many edges goes
 * through a hash table.
 */
export function buildEdgeTable(triangles: Uint32Array): EdgeTable {
  return edgesByVertex(triangles) ?? edgesByHash(triangles);
}

/** The half-edge after h within its triangle. */
export function nextHalfEdge(h: number): number {
  return h % 3 === 2 ? h - 2 : h + 1;
}

function edgesByVertex(triangles: Uint32Array): EdgeTable | null {
  const halfEdges = triangles.length;
  let vertices = 0;
  for (let h = 0; h < halfEdges; h++) if (triangles[h] >= vertices) vertices = triangles[h] + 1;
  // Newest edge at each vertex, plus one; then from edge to edge, likewise.
  const newest = new Int32Array(vertices);
  const older = new Int32Array(halfEdges);
  const table = new TableBuilder(halfEdges);
  const { first } = table;
  for (let t = 0; t < halfEdges; t += 3) {
    for (let k = 0; k < 3; k++) {
      const a = triangles[t + k];
      const b = triangles[k === 2 ? t : t + k + 1];
      const low = Math.min(a, b);
      const high = Math.max(a, b);
      let edge = newest[low] - 1;
      for (let looked = 0; edge >= 0 && otherEnd(triangles, first[edge], low) !== high; edge = older[edge] - 1) {
        if (++looked > MOST_AT_A_VERTEX) return null;
      }
      if (edge < 0) {
        edge = table.edges;
        older[edge] = newest[low];
        newest[low] = edge + 1;
      }
      table.add(t + k, edge);
    }
  }
  return table.finish();
}

function otherEnd(triangles: Uint32Array, h: number, vertex: number): number {
  return triangles[h] === vertex ? triangles[nextHalfEdge(h)] : triangles[h];
}

function edgesByHash(triangles: Uint32Array): EdgeTable {
  const halfEdges = triangles.length;
  const slots = new Int32Array(2 ** Math.ceil(Math.log2(Math.max(2, 2 * halfEdges)))).fill(-1);
  const mask = slots.length - 1;
  const table = new TableBuilder(halfEdges);
  const { first } = table;
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
      edge = table.edges;
      slots[slot] = edge;
    }
    table.add(h, edge);
  }
  return table.finish();
}

/** Takes half-edges in order; an edge number one past the last begins a new edge. */
class TableBuilder {
  edges = 0;
  /** First half-edge of each edge. */
  readonly first: Int32Array;
  readonly #edgeOf: Int32Array;
  readonly #faceCount: Uint8Array;
  readonly #opposite: Int32Array;

  constructor(halfEdges: number) {
    this.first = new Int32Array(halfEdges);
    this.#edgeOf = new Int32Array(halfEdges);
    this.#faceCount = new Uint8Array(halfEdges);
    this.#opposite = new Int32Array(halfEdges);
  }

  add(h: number, edge: number): void {
    const opposite = this.#opposite;
    const before = this.#faceCount[edge];
    if (before < 255) this.#faceCount[edge] = before + 1;
    this.#edgeOf[h] = edge;
    if (before === 0) {
      this.edges++;
      this.first[edge] = h;
      opposite[h] = -1;
      return;
    }
    const first = this.first[edge];
    if (before > 1 && opposite[first] >= 0) opposite[opposite[first]] = -1;
    opposite[first] = before === 1 ? h : -1;
    opposite[h] = before === 1 ? first : -1;
  }

  finish(): EdgeTable {
    return { edgeOf: this.#edgeOf, faceCount: this.#faceCount.slice(0, this.edges), opposite: this.#opposite };
  }
}
