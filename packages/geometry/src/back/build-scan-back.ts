import {
  buildChartFromMesh,
  buildTriangleTree,
  createChartField,
  createHeightQuery,
  createMeshDistanceField,
  createNearestHit,
  createNearestQuery,
  medianEdgeMm,
  type Side,
} from '../spatial/index.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { BackSurface, Landmarks, PathAccuracy, Vec3 } from './back-surface.ts';
import { measurePathAccuracy } from './measure-path-accuracy.ts';
import { turnFromAxes, turnMesh, turnPoint } from './scan-axes.ts';
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
/** The charts are tilted to the mean slope between these distances from the midline, mm. */
const TILT_FROM_Y_MM = 40;
const TILT_TO_Y_MM = 200;
/** Part of a scan that bars can reach, mm: ahead of the blade edges, behind the last rib, to the sides, below z = 0. */
const REACH = Object.freeze({ ahead: 300, behind: 350, aside: 350, beyondMidplane: 80, below: 400 });
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
  const turn = turnFromAxes(doc.axes, doc.unit);
  const warnings: string[] = [];
  const turned = facingUp(turnMesh(turn, cleaned, doc.unit), warnings);
  const tree = buildTriangleTree(turned);
  const heightAt = createHeightQuery(turned, tree);
  const given: GivenLandmarks = Object.fromEntries(
    Object.entries(doc.landmarks).flatMap(([name, p]) => (p === undefined ? [] : [[name, turnPoint(turn, p)]])),
  );
  warnings.push(...farFromSurface(given, createNearestQuery(turned, tree)));
  const frame = findScanFrame(given, heightAt, extentOf(turned), options.bearingLineYMm ?? BEARING_LINE_Y_MM);
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
  const left = chartOf(mesh, 'left', tilt.left, frame.landmarks, options.smoothingMm);
  const right = chartOf(mesh, 'right', tilt.right, frame.landmarks, options.smoothingMm ?? left.smoothingMm);
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
    fileToHorse: fileToHorse(turn, frame),
    heightMm,
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
  warnings.push('The triangles faced into the horse and were turned over.');
  return { positions: p, triangles: triangles.map((_, k, all) => all[k - (k % 3) + (2 - (k % 3))]) };
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

/** Mean slope outward of one side, radians, blade edge to last rib, |y| 40 ... 200 mm or as far as there is data. */
function meanSlope(heightMm: (x: number, y: number) => number, landmarks: Landmarks, sign: number): number {
  let fall = 0;
  let run = 0;
  for (let x = 0; x <= landmarks.lastRib[0]; x += 10) {
    let before = Number.NaN;
    for (let y = TILT_FROM_Y_MM; y <= TILT_TO_Y_MM; y += 10) {
      const z = heightMm(x, sign * y);
      if (!Number.isNaN(z - before)) {
        fall += before - z;
        run += 10;
      }
      before = z;
    }
  }
  return run === 0 ? 0 : Math.atan2(fall, run);
}

function chartOf(
  mesh: TriangleMesh,
  side: Side,
  tiltRad: number,
  landmarks: Landmarks,
  smoothingMm: number | undefined,
) {
  const sign = side === 'right' ? 1 : -1;
  const c = Math.cos(tiltRad);
  const s = sign * Math.sin(tiltRad);
  const u: [number, number] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const v: [number, number] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const p = mesh.positions;
  for (let k = 0; k < p.length; k += 3) {
    const outward = sign * p[k + 1];
    if (p[k] < -REACH.ahead || p[k] > landmarks.lastRib[0] + REACH.behind) continue;
    if (outward < -REACH.beyondMidplane || outward > REACH.aside || p[k + 2] < -REACH.below) continue;
    const across = c * p[k + 1] - s * p[k + 2];
    u[0] = Math.min(u[0], p[k]);
    u[1] = Math.max(u[1], p[k]);
    v[0] = Math.min(v[0], across);
    v[1] = Math.max(v[1], across);
  }
  const smoothing = smoothingMm === undefined ? {} : { smoothingMm };
  return buildChartFromMesh(mesh, side, tiltRad, { uRangeMm: u, vRangeMm: v, ...smoothing });
}

/** Points of the surface at which the two paths are compared: blade edge to last rib, |y| 45 ... 200 mm, both sides. */
function samplePoints(heightMm: (x: number, y: number) => number, landmarks: Landmarks): Float64Array {
  const points: Vec3[] = [];
  const stations = 40;
  for (let i = 0; i < stations; i++) {
    const x = (landmarks.lastRib[0] * (i + 0.37)) / stations;
    for (let j = 0; j < 12; j++) {
      const y = 45 + (155 * (j + 0.43)) / 12;
      for (const side of [y, -y]) {
        const z = heightMm(x, side);
        if (!Number.isNaN(z)) points.push([x, side, z]);
      }
    }
  }
  return Float64Array.from(points.flat());
}
