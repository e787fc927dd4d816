import { InputError } from '../numeric/index.ts';
import { boundaryLoopLengths } from '../surface/boundary-loops.ts';
import { CLEAN_MESH_DEFAULTS, cleanMesh } from '../surface/clean-mesh.ts';
import { dropFaces } from '../surface/drop-faces.ts';
import { buildEdgeTable } from '../surface/edge-table.ts';
import { facePatches } from '../surface/face-patches.ts';
import { meshBounds } from '../surface/index.ts';
import { keepIslands } from '../surface/keep-islands.ts';
import { orientPatches } from '../surface/orient-patches.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { weldVertices } from '../surface/weld-vertices.ts';
import { findHair } from './clean-scan-hair.ts';
import { withoutVertices } from './clean-scan-neighbours.ts';
import { findSpikes } from './clean-scan-spikes.ts';
import { CLEAN_STEPS, type CleanStep } from './clean-steps.ts';
import { readShape, spreadSamples } from './propose-shape.ts';

/** Limits in mm. Our own working judgement, no source. */
export const CLEAN_SCAN_DEFAULTS = Object.freeze({
  spikeSigmas: 6,
  spikeLeastMm: 2,
  hairStandsOffMm: 3,
  hairWidestMm: 60,
  pinholeLongestMm: 80,
});

export type CleanScanOptions = Partial<typeof CLEAN_SCAN_DEFAULTS> & {
  /** Millimetres in one unit of the mesh, default 1. */
  readonly unitMm?: number;
};

export interface CleanStepReport {
  readonly step: CleanStep;
  /** Vertices joined or taken out, faces left out or turned; for pinholes the number counted, none being changed. */
  readonly changed: number;
  /** Furthest that a point moved. Taking out moves nothing. */
  readonly largestMotionMm: number;
  readonly sentence: string;
}

/**
 * Cleans a scan step by step. Spikes and hair are taken out, not pulled in: what the scanner did not see is no data. Holes
 * are counted, never filled. The mesh handed in is left as it was, so a step is undone by running without it.
 * @param mesh in any axes; `options.unitMm` says its unit
 * @returns the mesh in its own unit; vertices that no face uses any longer are left in place
 * @throws InputError as cleanMesh does for a broken mesh; 'wrong-unit' when it would be wider than 10 m
 */
export function cleanScan(
  mesh: TriangleMesh,
  steps: readonly CleanStep[] = CLEAN_STEPS,
  options: CleanScanOptions = {},
): { mesh: TriangleMesh; steps: readonly CleanStepReport[] } {
  cleanMesh(mesh, { minIslandShare: 0 });
  const { unitMm = 1, ...given } = options;
  const limits = { ...CLEAN_SCAN_DEFAULTS, ...given };
  refuseHuge(mesh, unitMm);
  const reports: CleanStepReport[] = [];
  const note = (step: CleanStep, { changed, motionMm, sentence }: Omit<Done, 'mesh'>): void => {
    reports.push({ step, changed, largestMotionMm: motionMm ?? 0, sentence });
  };
  // Only welding touches positions: it works on the file's own numbers, so that a point that stays is the same bit for bit.
  const welded = steps.includes('weld') ? weld(mesh, unitMm) : null;
  if (welded !== null) note('weld', welded);
  const start = welded?.mesh ?? mesh;
  let current: TriangleMesh = { positions: start.positions.map((value) => value * unitMm), triangles: start.triangles };
  for (const step of CLEAN_STEPS) {
    if (step === 'weld' || !steps.includes(step)) continue;
    const done = RUN[step](current, limits);
    current = done.mesh;
    note(step, done);
  }
  return { mesh: { positions: start.positions, triangles: current.triangles }, steps: reports };
}

interface Done {
  readonly mesh: TriangleMesh;
  readonly changed: number;
  readonly motionMm?: number;
  readonly sentence: string;
}

type Limits = typeof CLEAN_SCAN_DEFAULTS;

const RUN: Readonly<Record<Exclude<CleanStep, 'weld'>, (mesh: TriangleMesh, limits: Limits) => Done>> = {
  faces,
  winding,
  islands,
  spikes: takeSpikes,
  hair: takeHair,
  pinholes: countPinholes,
};

function weld(mesh: TriangleMesh, unitMm: number): Done {
  const { min, max } = meshBounds(mesh);
  const diagonal = Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
  const found = weldVertices(mesh.positions, CLEAN_MESH_DEFAULTS.weldShareOfExtent * diagonal);
  const changed = (mesh.positions.length - found.positions.length) / 3;
  const motionMm = found.largestMotion * unitMm;
  const sentence =
    changed === 0
      ? 'No vertices lay together.'
      : `${changed} vertices were joined to others, moving ${motionMm.toPrecision(2)} mm at most.`;
  const triangles = mesh.triangles.map((v) => found.vertexOf[v]);
  return { mesh: { positions: found.positions, triangles }, changed, motionMm, sentence };
}

function faces({ positions, triangles }: TriangleMesh): Done {
  const dropped = dropFaces(positions, triangles, CLEAN_MESH_DEFAULTS.maxAspect);
  const changed = dropped.zeroArea + dropped.needles + dropped.duplicates;
  const sentence =
    changed === 0
      ? 'No triangles without area and no repeats.'
      : `${dropped.zeroArea + dropped.needles} triangles without area and ${dropped.duplicates} repeats were left out.`;
  return { mesh: { positions, triangles: dropped.triangles }, changed, sentence };
}

function winding(mesh: TriangleMesh): Done {
  const edges = buildEdgeTable(mesh.triangles);
  const patches = orientPatches(mesh.triangles, edges);
  const all = new Uint8Array(mesh.triangles.length / 3).fill(1);
  const { triangles, flippedFaces } = facePatches(mesh, edges, patches, all, null);
  const onesided =
    patches.conflictEdges > 0
      ? ` At ${patches.conflictEdges} edges no turning makes them agree: the surface is one-sided.`
      : '';
  const sentence =
    flippedFaces === 0
      ? `All triangles face one way.${onesided}`
      : `${flippedFaces} triangles faced against the rest of their patch and were turned.${onesided}`;
  return { mesh: { positions: mesh.positions, triangles }, changed: flippedFaces, sentence };
}

function islands(mesh: TriangleMesh): Done {
  const edges = buildEdgeTable(mesh.triangles);
  const patches = orientPatches(mesh.triangles, edges);
  const share = CLEAN_MESH_DEFAULTS.minIslandShare;
  const { keep, kept, dropped, droppedArea } = keepIslands(mesh, edges, patches, share);
  const triangles = mesh.triangles.filter((_, k) => keep[Math.floor(k / 3)] === 1);
  const sentence =
    dropped === 0
      ? `No loose pieces below ${100 * share} % of the largest; ${kept} in all.`
      : `${dropped} loose pieces, ${(droppedArea / 100).toFixed(1)} cm2 together, were left out; ${kept} stay.`;
  return { mesh: { positions: mesh.positions, triangles }, changed: dropped, sentence };
}

function takeSpikes(mesh: TriangleMesh, { spikeSigmas, spikeLeastMm }: Limits): Done {
  const { removed, sigmaMm } = findSpikes(mesh, { sigmas: spikeSigmas, leastMm: spikeLeastMm });
  const changed = removed.reduce((sum, value) => sum + value, 0);
  const limit = Math.max(spikeLeastMm, spikeSigmas * sigmaMm).toFixed(1);
  const what = `more than ${limit} mm (${spikeSigmas} standard deviations, at least ${spikeLeastMm} mm) off the fit through their neighbours`;
  const sentence =
    changed === 0 ? `No points stand ${what}.` : `${changed} points stood ${what}: taken out, no data there.`;
  return { mesh: withoutVertices(mesh, removed), changed, sentence };
}

function takeHair(mesh: TriangleMesh, { hairStandsOffMm, hairWidestMm }: Limits): Done {
  const shape = readShape(mesh, spreadSamples(mesh, 200));
  // A nearly closed surface was wound outwards by its volume, or shows no side.
  const outward = shape.openness > 0.3 && !shape.facesUp ? -1 : 1;
  const found = findHair(mesh, { standsOffMm: hairStandsOffMm, widestMm: hairWidestMm }, outward);
  const changed = found.removed.reduce((sum, value) => sum + value, 0);
  const wide =
    found.wide > 0 ? ` ${found.wide} wider than ${hairWidestMm} mm stay: that is shape, or a fold of a cloth.` : '';
  const sentence =
    found.tufts === 0
      ? `No small patches stand more than ${hairStandsOffMm} mm off the smoothed surface.${wide}`
      : `${found.tufts} small patches (${changed} points), up to ${found.highestMm.toFixed(1)} mm off the smoothed surface, look like hair: taken out, no data there.${wide}`;
  return { mesh: withoutVertices(mesh, found.removed), changed, sentence };
}

function countPinholes(mesh: TriangleMesh, { pinholeLongestMm }: Limits): Done {
  const loops = boundaryLoopLengths(mesh.positions, mesh.triangles, buildEdgeTable(mesh.triangles)).slice(1);
  const pinholes = loops.filter((length) => length <= pinholeLongestMm).length;
  const larger = loops.length - pinholes;
  const sentence = `${pinholes} holes of at most ${pinholeLongestMm} mm around and ${larger} larger ones, besides the outer rim; none is filled.`;
  return { mesh, changed: pinholes, sentence };
}

const WIDEST_MM = 10_000;

function refuseHuge(mesh: TriangleMesh, unitMm: number): void {
  const { min, max } = meshBounds(mesh);
  const widest = unitMm * Math.max(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
  if (unitMm > 0 && widest <= WIDEST_MM) return;
  throw new InputError({
    code: 'wrong-unit',
    field: 'unit',
    got: `a longest side of ${widest.toPrecision(4)} mm`,
    expected: `at most ${WIDEST_MM} mm`,
    remedy: 'Check the unit that the scan was saved in.',
  });
}
