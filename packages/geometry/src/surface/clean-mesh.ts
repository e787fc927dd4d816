import { InputError, type InputErrorCode, showGot } from '../numeric/input-error.ts';
import { boundaryLoopLengths } from './boundary-loops.ts';
import { dropFaces } from './drop-faces.ts';
import { buildEdgeTable } from './edge-table.ts';
import { facePatches } from './face-patches.ts';
import { keepIslands } from './keep-islands.ts';
import { meshBounds } from './mesh-measures.ts';
import { orientPatches } from './orient-patches.ts';
import { tellPhase } from './phase-listener.ts';
import type { TriangleMesh } from './triangle-mesh.ts';
import { weldVertices } from './weld-vertices.ts';

export interface CleanMeshOptions {
  /** Vertices this near become one, in the mesh's unit; 0 joins identical ones only. Default 1e-6 of the bounding box's diagonal. */
  readonly weldTolerance?: number;
  /** Islands with less than this share of the largest one's area are left out, 0..1. */
  readonly minIslandShare?: number;
  /** Open patches are turned so that most of their area faces this way; null keeps the winding of the majority. */
  readonly up?: readonly [number, number, number] | null;
  /** Faces longer than this many times their height are left out. */
  readonly maxAspect?: number;
  readonly maxTriangles?: number;
}

export const CLEAN_MESH_DEFAULTS = Object.freeze({
  weldShareOfExtent: 1e-6,
  minIslandShare: 0.02,
  up: null,
  maxAspect: 1e9,
  maxTriangles: 20_000_000,
});

/** What was done to a mesh; lengths and areas in the mesh's own unit. */
export interface CleanMeshReport {
  readonly verticesIn: number;
  readonly verticesOut: number;
  readonly trianglesIn: number;
  readonly trianglesOut: number;
  readonly weldTolerance: number;
  /** Vertices that were joined to another one. */
  readonly weldedVertices: number;
  /** Furthest that any point moved: by welding, the only step that moves points. */
  readonly largestMotion: number;
  readonly zeroAreaFaces: number;
  readonly needleFaces: number;
  readonly duplicateFaces: number;
  /** Faces that wound against the majority of their patch and were turned. */
  readonly flippedFaces: number;
  /** Patches turned as a whole, to face up or, when closed, outwards. */
  readonly turnedPatches: number;
  /** False when a patch is one-sided (Moebius band, Klein bottle): its winding can't be made to agree everywhere. */
  readonly orientable: boolean;
  readonly conflictEdges: number;
  readonly islandsKept: number;
  readonly islandsDropped: number;
  readonly islandsDroppedArea: number;
  /** Lengths of rims and holes, longest first. */
  readonly boundaryLoops: readonly number[];
  /** Edges that three or more faces share; kept as they are. */
  readonly nonManifoldEdges: number;
}

/**
 * Makes a scan usable: welds vertices, leaves out degenerate and repeated faces and small islands, makes winding agree, turns open
 * patches towards `up` and closed ones outwards. Holes are not filled and self-intersections not looked for. Near linear time.
 * The mesh handed in is left as it is; where nothing was wrong the arrays of the answer are its own.
 * @throws InputError 'malformed', 'not-a-number', 'out-of-range' for a broken mesh, 'empty', 'too-large', and 'degenerate' when no
 * face is left (all points identical or on a line).
 */
export function cleanMesh(
  mesh: TriangleMesh,
  options: CleanMeshOptions = {},
): { mesh: TriangleMesh; report: CleanMeshReport } {
  const settings = { ...CLEAN_MESH_DEFAULTS, ...options };
  tellPhase('cleaning', 0);
  checkInput(mesh, settings.maxTriangles);
  const extent = diagonal(mesh);
  const weldTolerance = options.weldTolerance ?? CLEAN_MESH_DEFAULTS.weldShareOfExtent * extent;
  if (!(weldTolerance >= 0 && weldTolerance < Infinity))
    fail('out-of-range', 'weldTolerance', weldTolerance, '0 or more', 'Leave it out.');
  const welded = weldVertices(mesh.positions, weldTolerance);
  tellPhase('cleaning', 0.3);
  const faces = dropFaces(
    welded.positions,
    welded.positions === mesh.positions ? mesh.triangles : mesh.triangles.map((v) => welded.vertexOf[v]),
    settings.maxAspect,
  );
  if (faces.triangles.length === 0) {
    fail(
      'degenerate',
      'mesh',
      `${mesh.triangles.length / 3} faces without area`,
      'a surface',
      'All points are the same or on one line.',
    );
  }
  const all = { positions: welded.positions, triangles: faces.triangles };
  tellPhase('cleaning', 0.5);
  const edges = buildEdgeTable(all.triangles);
  tellPhase('cleaning', 0.8);
  const patches = orientPatches(all.triangles, edges);
  const islands = keepIslands(all, edges, patches, settings.minIslandShare);
  const faced = facePatches(all, edges, patches, islands.keep, settings.up);
  const out = compact(all.positions, faced.triangles);
  // Numbers of half-edges stay where no face goes or turns.
  const outEdges = faced.triangles === all.triangles ? edges : buildEdgeTable(out.triangles);
  const report: CleanMeshReport = {
    verticesIn: mesh.positions.length / 3,
    verticesOut: out.positions.length / 3,
    trianglesIn: mesh.triangles.length / 3,
    trianglesOut: out.triangles.length / 3,
    weldTolerance,
    weldedVertices: (mesh.positions.length - welded.positions.length) / 3,
    largestMotion: welded.largestMotion,
    zeroAreaFaces: faces.zeroArea,
    needleFaces: faces.needles,
    duplicateFaces: faces.duplicates,
    flippedFaces: faced.flippedFaces,
    turnedPatches: faced.turnedPatches,
    orientable: patches.conflictEdges === 0,
    conflictEdges: patches.conflictEdges,
    islandsKept: islands.kept,
    islandsDropped: islands.dropped,
    islandsDroppedArea: islands.droppedArea,
    boundaryLoops: boundaryLoopLengths(out.positions, out.triangles, outEdges),
    nonManifoldEdges: countAbove(outEdges.faceCount, 2),
  };
  tellPhase('cleaning', 1);
  return { mesh: out, report };
}

function checkInput({ positions, triangles }: TriangleMesh, maxTriangles: number): void {
  const remedy = 'Read the mesh again from its file.';
  if (positions.length % 3 !== 0 || triangles.length % 3 !== 0) {
    fail(
      'malformed',
      'mesh',
      `${positions.length} and ${triangles.length} values`,
      'three values for each vertex and face',
      remedy,
    );
  }
  const faces = triangles.length / 3;
  if (faces === 0) fail('empty', 'mesh', '0 faces', 'at least one face', remedy);
  if (faces > maxTriangles)
    fail('too-large', 'mesh', `${faces} faces`, `at most ${maxTriangles}`, 'Thin the scan out first.');
  for (let i = 0; i < positions.length; i++) {
    if (Math.abs(positions[i]) < Infinity) continue;
    fail('not-a-number', `vertex ${Math.floor(i / 3)}`, positions[i], 'finite coordinates', remedy);
  }
  const vertices = positions.length / 3;
  for (let i = 0; i < triangles.length; i++) {
    if (triangles[i] < vertices) continue;
    fail('out-of-range', `triangle ${Math.floor(i / 3)}`, triangles[i], `vertex indices below ${vertices}`, remedy);
  }
}

function countAbove(values: Uint8Array, limit: number): number {
  let count = 0;
  for (let i = 0; i < values.length; i++) if (values[i] > limit) count++;
  return count;
}

function diagonal(mesh: TriangleMesh): number {
  const { min, max } = meshBounds(mesh);
  return Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
}

/** Leaves out vertices that no face uses; the others keep their order. Nothing is copied when all are used. */
function compact(positions: Float64Array, triangles: Uint32Array): TriangleMesh {
  const numberOf = new Int32Array(positions.length / 3).fill(-1);
  for (let h = 0; h < triangles.length; h++) numberOf[triangles[h]] = 0;
  let count = 0;
  for (let v = 0; v < numberOf.length; v++) if (numberOf[v] === 0) numberOf[v] = count++;
  if (count === numberOf.length) return { positions, triangles };
  const kept = new Float64Array(3 * count);
  for (let v = 0; v < numberOf.length; v++) {
    if (numberOf[v] < 0) continue;
    for (let k = 0; k < 3; k++) kept[3 * numberOf[v] + k] = positions[3 * v + k];
  }
  return { positions: kept, triangles: triangles.map((vertex) => numberOf[vertex]) };
}

function fail(code: InputErrorCode, field: string, got: unknown, expected: string, remedy: string): never {
  throw new InputError({ code, field, got: showGot(got), expected, remedy });
}
