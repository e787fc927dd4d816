import {
  buildTriangleTree,
  createChartField,
  createHeightQuery,
  createMeshDistanceField,
  createNearestHit,
  createNearestQuery,
  medianEdgeMm,
} from '../spatial/index.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { BackSurface, Landmarks, PathAccuracy } from './back-surface.ts';
import { bladesOf } from './blades.ts';
import { liftBack, liftMesh } from './lifted-back.ts';
import { measurePathAccuracy } from './measure-path-accuracy.ts';
import { rewound, turnFromAxes, turnMesh, turnPoint } from './scan-axes.ts';
import { buildScanChart, meanSlope, samplePoints } from './scan-charts.ts';
import { findScanFrame, type ScanFrame } from './scan-frame.ts';
import type { GivenLandmarks } from './scan-landmarks.ts';
import type { ScanBackDocument } from './scan-schema.ts';

export interface ScanBackOptions {
  /** Distance of the bearing line from the midplane, mm. Default 120. */
  readonly bearingLineYMm?: number;
  /** Smoothing of the charts, mm. Default: chosen from the scan's edge length and noise. */
  readonly smoothingMm?: number;
}

export interface ScanBackReport {
  readonly triangles: number;
  readonly medianEdgeMm: number;
  /** Tilt of each chart, degrees. */
  readonly tiltLeftDeg: number;
  readonly tiltRightDeg: number;
  readonly smoothingMm: number;
  readonly warnings: readonly string[];
}

const BEARING_LINE_Y_MM = 120;
/** A marked point further from the surface than this is doubted, mm. */
const LANDMARK_OFF_SURFACE_MM = 60;

/**
 * A back from a scan (DESIGN 3): unit and axes, horse frame from landmarks, exact path on the triangles, fast path on
 * two tilted charts.
 *
 * `cleaned` is the mesh in the file's own coordinates and unit, welded and consistently wound; triangles that face down
 * on the whole are turned over with a warning.
 * @throws InputError as named in scan-axes.ts, scan-frame.ts and scan-landmarks.ts
 */
export function buildScanBack(
  doc: ScanBackDocument,
  cleaned: TriangleMesh,
  options: ScanBackOptions = {},
): { back: BackSurface; report: ScanBackReport } {
  const turn = turnFromAxes(doc.axes, doc.unit, doc.turn, doc.mirrored);
  const warnings: string[] = [];
  const turned = facingUp(turnMesh(turn, cleaned, doc.unit), warnings);
  const tree = buildTriangleTree(turned);
  const heightAt = createHeightQuery(turned, tree);
  const given: GivenLandmarks = Object.fromEntries(
    Object.entries(doc.landmarks).flatMap(([name, p]) => (p === undefined ? [] : [[name, turnPoint(turn, p)]])),
  );
  warnings.push(...farFromSurface(given, createNearestQuery(turned, tree)));
  const found = findScanFrame(given, heightAt, extentOf(turned), options.bearingLineYMm ?? BEARING_LINE_Y_MM);
  const frame = withProposed(found, doc.proposedLandmarks ?? []);
  warnings.push(...frame.warnings);
  if (frame.landmarks.proposed.length > 0) {
    warnings.push(`Not marked, proposed from the shape: ${frame.landmarks.proposed.join(', ')}.`);
  }
  const mesh = intoFrame(turned, frame);
  const heightMm = (x: number, y: number): number => {
    const [u, v] = outOfFrame(frame, x, y);
    return heightAt(u, v) + frame.shiftMm[2];
  };
  const tilt = { left: meanSlope(heightMm, frame.landmarks, -1), right: meanSlope(heightMm, frame.landmarks, 1) };
  const left = buildScanChart(mesh, 'left', tilt.left, frame.landmarks, options.smoothingMm);
  const right = buildScanChart(mesh, 'right', tilt.right, frame.landmarks, options.smoothingMm ?? left.smoothingMm);
  const exact = createMeshDistanceField(mesh);
  const fast = createChartField(left, right);
  let accuracy: PathAccuracy | undefined;
  const back: BackSurface = {
    name: doc.name,
    kind: 'scan',
    exact,
    fast,
    get fastAccuracy(): PathAccuracy {
      accuracy ??= measurePathAccuracy(fast, exact, samplePoints(heightMm, frame.landmarks), {
        smoothingMm: left.smoothingMm,
        foldedFraction: Math.max(left.foldedFraction, right.foldedFraction),
      });
      return accuracy;
    },
    landmarks: frame.landmarks,
    measured: doc.measured,
    blades: bladesOf(doc.bladeBulge?.heightMm, doc.bladeSwingMm),
    warnings,
    fileToHorse: fileToHorse(turn, frame),
    heightMm,
    lifted: (lift) =>
      liftBack(back, { left, right, exactWith: (by) => createMeshDistanceField(liftMesh(mesh, by)) }, lift),
    drawingMesh: () => mesh,
  };
  const report = {
    triangles: mesh.triangles.length / 3,
    medianEdgeMm: medianEdgeMm(mesh),
    tiltLeftDeg: (tilt.left * 180) / Math.PI,
    tiltRightDeg: (tilt.right * 180) / Math.PI,
    smoothingMm: left.smoothingMm,
    warnings,
  };
  return { back, report };
}

/** Landmarks that were taken from the shape before, and written down, are still nobody's marks. */
function withProposed(frame: ScanFrame, names: Landmarks['proposed']): ScanFrame {
  const proposed = [...new Set([...frame.landmarks.proposed, ...names])];
  return { ...frame, landmarks: { ...frame.landmarks, proposed } };
}

function facingUp(mesh: TriangleMesh, warnings: string[]): TriangleMesh {
  const { positions: p, triangles } = mesh;
  let upward = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const c = 3 * triangles[t + 2];
    upward += (p[b] - p[a]) * (p[c + 1] - p[a + 1]) - (p[b + 1] - p[a + 1]) * (p[c] - p[a]);
  }
  if (upward >= 0) return mesh;
  warnings.push(
    'The triangles faced into the horse and were turned over. A scan saved mirrored faces inward too: check that left is left.',
  );
  return { positions: p, triangles: rewound(triangles) };
}

function farFromSurface(given: GivenLandmarks, nearest: ReturnType<typeof createNearestQuery>): string[] {
  const hit = createNearestHit();
  return Object.entries(given).flatMap(([name, p]) => {
    nearest(p[0], p[1], p[2], hit);
    const away = Math.sqrt(hit.squaredDistance);
    return away > LANDMARK_OFF_SURFACE_MM ? [`${name} lies ${away.toFixed(0)} mm from the scanned surface.`] : [];
  });
}

function extentOf(mesh: TriangleMesh): { xMm: [number, number]; yMm: [number, number] } {
  const xMm: [number, number] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const yMm: [number, number] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const p = mesh.positions;
  for (let k = 0; k < p.length; k += 3) {
    xMm[0] = Math.min(xMm[0], p[k]);
    xMm[1] = Math.max(xMm[1], p[k]);
    yMm[0] = Math.min(yMm[0], p[k + 1]);
    yMm[1] = Math.max(yMm[1], p[k + 1]);
  }
  return { xMm, yMm };
}

function intoFrame(mesh: TriangleMesh, frame: ScanFrame): TriangleMesh {
  const { cos, sin, shiftMm } = frame;
  const p = mesh.positions;
  const positions = new Float64Array(p.length);
  for (let k = 0; k < p.length; k += 3) {
    positions[k] = cos * p[k] + sin * p[k + 1] + shiftMm[0];
    positions[k + 1] = cos * p[k + 1] - sin * p[k] + shiftMm[1];
    positions[k + 2] = p[k + 2] + shiftMm[2];
  }
  return { positions, triangles: mesh.triangles };
}

function outOfFrame(frame: ScanFrame, x: number, y: number): [number, number] {
  const u = x - frame.shiftMm[0];
  const v = y - frame.shiftMm[1];
  return [frame.cos * u - frame.sin * v, frame.sin * u + frame.cos * v];
}

function fileToHorse(turn: readonly number[], frame: ScanFrame): number[] {
  const { cos, sin, shiftMm } = frame;
  const row = (a: number, b: number) => [0, 1, 2].map((k) => a * turn[k] + b * turn[3 + k]);
  return [
    ...row(cos, sin),
    shiftMm[0],
    ...row(-sin, cos),
    shiftMm[1],
    turn[6],
    turn[7],
    turn[8],
    shiftMm[2],
    ...[0, 0, 0, 1],
  ];
}
