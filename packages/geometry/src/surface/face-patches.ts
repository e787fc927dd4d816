import type { EdgeTable } from './edge-table.ts';
import { areaVector } from './mesh-measures.ts';
import type { Patches } from './orient-patches.ts';
import type { TriangleMesh } from './triangle-mesh.ts';

export interface FacedPatches {
  /** Kept faces in their old order, corners swapped where turned. The mesh's own array when none goes or turns. */
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
  const swaps = Uint8Array.from({ length: patchCount }, (_, patch) => wanted(patch));
  const against = Uint8Array.from({ length: patchCount }, (_, patch) => majority(patch));
  const turnedPatches = new Uint8Array(patchCount);
  let flippedFaces = 0;
  let changed = 0;
  for (let face = 0; face < patchOf.length; face++) {
    const patch = patchOf[face];
    if (keep[face] === 0) {
      changed++;
      continue;
    }
    if (turned[face] !== against[patch]) flippedFaces++;
    if (swaps[patch] !== against[patch]) turnedPatches[patch] = 1;
    if (turned[face] !== swaps[patch]) changed++;
  }
  const triangles = changed === 0 ? mesh.triangles : turnedFaces(mesh.triangles, patches, keep, swaps);
  return { triangles, flippedFaces, turnedPatches: turnedPatches.reduce((sum, value) => sum + value, 0) };
}

function turnedFaces(triangles: Uint32Array, patches: Patches, keep: Uint8Array, swaps: Uint8Array): Uint32Array {
  const { patchOf, turned } = patches;
  const out = new Uint32Array(triangles.length);
  let length = 0;
  for (let face = 0; face < patchOf.length; face++) {
    if (keep[face] === 0) continue;
    const swap = turned[face] !== swaps[patchOf[face]] ? 1 : 0;
    out[length] = triangles[3 * face];
    out[length + 1] = triangles[3 * face + 1 + swap];
    out[length + 2] = triangles[3 * face + 2 - swap];
    length += 3;
  }
  return out.slice(0, length);
}

/**
 * For each patch, in the winding of its first face: six times the enclosed volume when it has no rim, else its area facing up minus
 * its area facing down (0 without a direction).
 */
function sumFacing(mesh: TriangleMesh, edges: EdgeTable, patches: Patches, up: readonly number[] | null): Float64Array {
  const { positions: p, triangles } = mesh;
  const { patchOf, turned } = patches;
  const open = new Uint8Array(patches.patchCount);
  for (let h = 0; h < triangles.length; h++) if (edges.opposite[h] < 0) open[patchOf[(h / 3) | 0]] = 1;
  const sums = new Float64Array(patches.patchCount);
  // Without a direction an open patch has no side to face.
  if (up === null && open.every((value) => value === 1)) return sums;
  const vector = new Float64Array(3);
  for (let face = 0; face < patchOf.length; face++) {
    const a = triangles[3 * face];
    areaVector(p, a, triangles[3 * face + 1], triangles[3 * face + 2], vector);
    const sign = turned[face] === 1 ? -1 : 1;
    // Measured from the mesh's first vertex, so that a far-off origin costs no digits.
    const volume =
      vector[0] * (p[3 * a] - p[0]) + vector[1] * (p[3 * a + 1] - p[1]) + vector[2] * (p[3 * a + 2] - p[2]);
    const facing = up === null ? 0 : vector[0] * up[0] + vector[1] * up[1] + vector[2] * up[2];
    const size = Math.sqrt(vector[0] * vector[0] + vector[1] * vector[1] + vector[2] * vector[2]);
    sums[patchOf[face]] += sign * (open[patchOf[face]] === 0 ? volume : Math.sign(facing) * size);
  }
  return sums;
}
