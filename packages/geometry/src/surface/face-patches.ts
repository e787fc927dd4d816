import type { EdgeTable } from './edge-table.ts';
import { areaVector } from './mesh-measures.ts';
import type { Patches } from './orient-patches.ts';
import type { TriangleMesh } from './triangle-mesh.ts';

export interface FacedPatches {
  /** Kept faces in their old order, corners swapped where turned. */
  readonly triangles: Uint32Array;
  /** Kept faces that wound against the majority of their patch. */
  readonly flippedFaces: number;
  /** Patches whose majority was turned. */
  readonly turnedPatches: number;
}

/**
 * Chooses a side for each patch: outwards when it is closed, else the side on which most of its area faces `up`, else the winding that
 * most of its faces had.
 */
export function facePatches(
  mesh: TriangleMesh,
  edges: EdgeTable,
  patches: Patches,
  keep: Uint8Array,
  up: readonly [number, number, number] | null,
): FacedPatches {
  const { patchOf, patchCount, turned } = patches;
  const facing = sumFacing(mesh, edges, patches, up);
  const balance = new Int32Array(patchCount);
  for (let face = 0; face < patchOf.length; face++) balance[patchOf[face]] += turned[face] === 1 ? -1 : 1;
  // By the winding of a patch's first face; a tie or an edge-on patch stays with the majority.
  const majority = (patch: number) => (balance[patch] < 0 ? 1 : 0);
  const wanted = (patch: number) => (facing[patch] === 0 ? majority(patch) : facing[patch] < 0 ? 1 : 0);
  const out = new Uint32Array(mesh.triangles.length);
  const turnedPatches = new Set<number>();
  let length = 0;
  let flippedFaces = 0;
  for (let face = 0; face < patchOf.length; face++) {
    if (keep[face] === 0) continue;
    const patch = patchOf[face];
    if (turned[face] !== majority(patch)) flippedFaces++;
    if (wanted(patch) !== majority(patch)) turnedPatches.add(patch);
    const swap = turned[face] !== wanted(patch) ? 1 : 0;
    out[length] = mesh.triangles[3 * face];
    out[length + 1] = mesh.triangles[3 * face + 1 + swap];
    out[length + 2] = mesh.triangles[3 * face + 2 - swap];
    length += 3;
  }
  return { triangles: out.slice(0, length), flippedFaces, turnedPatches: turnedPatches.size };
}

/**
 * For each patch, in the winding of its first face: six times the enclosed volume when it has no rim, else its area facing up minus
 * its area facing down (0 without a direction).
 */
function sumFacing(mesh: TriangleMesh, edges: EdgeTable, patches: Patches, up: readonly number[] | null): Float64Array {
  const { positions: p, triangles } = mesh;
  const { patchOf, turned } = patches;
  const open = new Uint8Array(patches.patchCount);
  for (let h = 0; h < triangles.length; h++) {
    if (edges.faceCount[edges.edgeOf[h]] !== 2) open[patchOf[Math.floor(h / 3)]] = 1;
  }
  const sums = new Float64Array(patches.patchCount);
  const vector = new Float64Array(3);
  for (let face = 0; face < patchOf.length; face++) {
    const a = triangles[3 * face];
    areaVector(p, a, triangles[3 * face + 1], triangles[3 * face + 2], vector);
    const sign = turned[face] === 1 ? -1 : 1;
    // Measured from the mesh's first vertex, so that a far-off origin costs no digits.
    const volume = [0, 1, 2].reduce((sum, k) => sum + vector[k] * (p[3 * a + k] - p[k]), 0);
    const facing = up === null ? 0 : vector[0] * up[0] + vector[1] * up[1] + vector[2] * up[2];
    const size = Math.hypot(vector[0], vector[1], vector[2]);
    sums[patchOf[face]] += sign * (open[patchOf[face]] === 0 ? volume : Math.sign(facing) * size);
  }
  return sums;
}
