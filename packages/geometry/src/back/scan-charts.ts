import { buildChartFromMesh, type Chart, type Side } from '../spatial/index.ts';
import { tellPhase } from '../surface/phase-listener.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { Landmarks, Vec3 } from './back-surface.ts';

type HeightAt = (xMm: number, yMm: number) => number;

/** The charts are tilted to the mean slope between these distances from the midline, mm. */
const TILT_FROM_Y_MM = 40;
const TILT_TO_Y_MM = 200;
/** Part of a scan that bars can reach, mm: ahead of the blade edges, behind the last rib, to the sides, below z = 0. */
const REACH = Object.freeze({ ahead: 300, behind: 350, aside: 350, beyondMidplane: 80, below: 400 });
/** Mean slope outward of one side, radians, blade edge to last rib, |y| 40 ... 200 mm or as far as there is data. */
export function meanSlope(heightMm: HeightAt, landmarks: Landmarks, sign: number): number {
  tellPhase('shaping', 0.3);
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

/** The chart of one side over what bars can reach. */
export function buildScanChart(
  mesh: TriangleMesh,
  side: Side,
  tiltRad: number,
  landmarks: Landmarks,
  smoothingMm: number | undefined,
): Chart {
  const sign = side === 'right' ? 1 : -1;
  const c = Math.cos(tiltRad);
  const s = sign * Math.sin(tiltRad);
  let uLow = Number.POSITIVE_INFINITY;
  let uHigh = Number.NEGATIVE_INFINITY;
  let vLow = Number.POSITIVE_INFINITY;
  let vHigh = Number.NEGATIVE_INFINITY;
  const behind = landmarks.lastRib[0] + REACH.behind;
  const p = mesh.positions;
  // The left chart is made first.
  tellPhase('shaping', side === 'left' ? 0.4 : 0.7);
  for (let k = 0; k < p.length; k += 3) {
    const outward = sign * p[k + 1];
    if (p[k] < -REACH.ahead || p[k] > behind) continue;
    if (outward < -REACH.beyondMidplane || outward > REACH.aside || p[k + 2] < -REACH.below) continue;
    const along = p[k];
    const across = c * p[k + 1] - s * p[k + 2];
    if (along < uLow) uLow = along;
    if (along > uHigh) uHigh = along;
    if (across < vLow) vLow = across;
    if (across > vHigh) vHigh = across;
  }
  const smoothing = smoothingMm === undefined ? {} : { smoothingMm };
  return buildChartFromMesh(mesh, side, tiltRad, {
    uRangeMm: [uLow, uHigh],
    vRangeMm: [vLow, vHigh],
    ...smoothing,
  });
}

/** Points of the surface at which the two paths are compared: blade edge to last rib, |y| 45 ... 200 mm, both sides. */
export function samplePoints(heightMm: HeightAt, landmarks: Landmarks): Float64Array {
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
