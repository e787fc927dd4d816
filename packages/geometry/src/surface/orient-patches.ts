import { type EdgeTable, nextHalfEdge } from './edge-table.ts';

export interface Patches {
  /** Patch of each face: faces joined through edges that exactly two faces share. */
  readonly patchOf: Int32Array;
  readonly patchCount: number;
  /** 1 where the face has to be turned over to agree with the first face of its patch. */
  readonly turned: Uint8Array;
  /** Shared edges across which no turning makes the two faces agree: the patch is one-sided, like a Moebius band. */
  readonly conflictEdges: number;
}

/** Makes winding agree within each patch over the edges that two faces share; a patch's first face keeps its own. */
export function orientPatches(triangles: Uint32Array, { opposite }: EdgeTable): Patches {
  return joinAgreeing(triangles, opposite) ?? floodPatches(triangles, opposite);
}

/** Patches of a mesh whose faces agree already: joined in their order, which is kinder to the cache than a flood. Null when two don't. */
function joinAgreeing(triangles: Uint32Array, opposite: Int32Array): Patches | null {
  const faces = triangles.length / 3;
  // An earlier face of the same patch, or itself.
  const earlier = new Int32Array(faces);
  for (let face = 0; face < faces; face++) {
    earlier[face] = face;
    for (let h = 3 * face; h < 3 * face + 3; h++) {
      const other = opposite[h];
      if (other < 0 || other > h) continue;
      if (triangles[h] === triangles[other]) return null;
      let one = face;
      while (earlier[one] !== one) one = earlier[one] = earlier[earlier[one]];
      let two = (other / 3) | 0;
      while (earlier[two] !== two) two = earlier[two] = earlier[earlier[two]];
      if (one < two) earlier[two] = one;
      else earlier[one] = two;
    }
  }
  let patchCount = 0;
  for (let face = 0; face < faces; face++) {
    earlier[face] = earlier[face] === face ? patchCount++ : earlier[earlier[face]];
  }
  return { patchOf: earlier, patchCount, turned: new Uint8Array(faces), conflictEdges: 0 };
}

/** Flooded from each patch's first face. */
function floodPatches(triangles: Uint32Array, opposite: Int32Array): Patches {
  const faces = triangles.length / 3;
  const patchOf = new Int32Array(faces).fill(-1);
  const turned = new Uint8Array(faces);
  const stack = new Int32Array(faces);
  let patchCount = 0;
  let conflicts = 0;
  for (let seed = 0; seed < faces; seed++) {
    if (patchOf[seed] >= 0) continue;
    patchOf[seed] = patchCount;
    stack[0] = seed;
    for (let top = 1; top > 0; ) {
      const face = stack[--top];
      const own = turned[face];
      for (let h = 3 * face; h < 3 * face + 3; h++) {
        const other = opposite[h];
        if (other < 0) continue;
        const neighbour = (other / 3) | 0;
        const turn = own ^ (runsAlike(triangles, h, other) ? 1 : 0);
        if (patchOf[neighbour] < 0) {
          patchOf[neighbour] = patchCount;
          turned[neighbour] = turn;
          stack[top++] = neighbour;
        } else if (turned[neighbour] !== turn) conflicts++;
      }
    }
    patchCount++;
  }
  // Each conflict is seen from both of its faces.
  return { patchOf, patchCount, turned, conflictEdges: conflicts / 2 };
}

/** The other half-edge of an edge that exactly two faces share; -1 on a rim or where more meet. */
export function oppositeHalfEdge(edges: EdgeTable, h: number): number {
  return edges.opposite[h];
}

/** Two faces agree when they run along their common edge in opposite directions. */
function runsAlike(triangles: Uint32Array, h: number, other: number): boolean {
  return triangles[h] === triangles[other] && triangles[nextHalfEdge(h)] === triangles[nextHalfEdge(other)];
}
