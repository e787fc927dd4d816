import { DisjointSets } from './disjoint-sets.ts';
import type { EdgeTable } from './edge-table.ts';
import { areaVector } from './mesh-measures.ts';
import type { Patches } from './orient-patches.ts';
import type { TriangleMesh } from './triangle-mesh.ts';

export interface KeptIslands {
  /** 1 for each face of an island that stays. */
  readonly keep: Uint8Array;
  readonly kept: number;
  readonly dropped: number;
  readonly droppedArea: number;
}

/** Islands are faces joined through any shared edge. Those with less than `minShare` of the largest one's area go. */
export function keepIslands(mesh: TriangleMesh, edges: EdgeTable, patches: Patches, minShare: number): KeptIslands {
  const { positions, triangles } = mesh;
  const faces = patches.patchOf.length;
  if (patches.patchCount === 1) return { keep: new Uint8Array(faces).fill(1), kept: 1, dropped: 0, droppedArea: 0 };
  const sets = joinPatches(triangles, edges, patches);
  const area = new Float64Array(patches.patchCount);
  const vector = new Float64Array(3);
  for (let face = 0; face < faces; face++) {
    areaVector(positions, triangles[3 * face], triangles[3 * face + 1], triangles[3 * face + 2], vector);
    const square = vector[0] * vector[0] + vector[1] * vector[1] + vector[2] * vector[2];
    area[sets.find(patches.patchOf[face])] += Math.sqrt(square);
  }
  const limit = minShare * area.reduce((a, b) => Math.max(a, b), 0);
  const small = area.filter((value) => value > 0 && value < limit);
  const keep = new Uint8Array(faces);
  for (let face = 0; face < keep.length; face++) keep[face] = area[sets.find(patches.patchOf[face])] < limit ? 0 : 1;
  const islands = area.filter((value) => value > 0).length;
  const droppedArea = small.reduce((a, b) => a + b, 0);
  return { keep, kept: islands - small.length, dropped: small.length, droppedArea };
}

/** Joins patches that meet at an edge of three or more faces. */
function joinPatches(triangles: Uint32Array, edges: EdgeTable, patches: Patches): DisjointSets {
  const sets = new DisjointSets(patches.patchCount);
  const firstPatch = new Map<number, number>();
  for (let h = 0; h < triangles.length; h++) {
    const edge = edges.edgeOf[h];
    if (edges.faceCount[edge] < 3) continue;
    const patch = patches.patchOf[(h / 3) | 0];
    const first = firstPatch.get(edge);
    if (first === undefined) firstPatch.set(edge, patch);
    else sets.join(first, patch);
  }
  return sets;
}
