/**
 * A circular arc as a graph z(x): the sine of its tangent angle grows linearly, sine(x) = sine + curvature (x - xMm), so a
 * straight line is the case of curvature 0 and needs no other formula. mm, + curvature is convex downward.
 */
export interface Arc {
  readonly xMm: number;
  readonly zMm: number;
  /** Sine of the tangent angle at xMm, + rising. */
  readonly sine: number;
  readonly curvaturePerMm: number;
}

export interface ArcFit {
  readonly arc: Arc;
  /** Root mean square and largest of the distances from the points used, mm. */
  readonly rmsMm: number;
  readonly worstMm: number;
}

/** Beyond this sine the arc is nearly vertical in the frame of its own points, and no arc of ours. */
const STEEPEST = 0.98;

/** Height of the arc at x; NaN where the circle does not reach. */
export function arcHeight(arc: Arc, xMm: number): number {
  return arc.zMm + rise(xMm - arc.xMm, arc.sine, arc.curvaturePerMm);
}

/** Angle of the arc's tangent at x, + rising with x; NaN where the circle does not reach. */
export function arcTangentRad(arc: Arc, xMm: number): number {
  return Math.asin(arc.sine + arc.curvaturePerMm * (xMm - arc.xMm));
}

/** Where the arc is level, mm; NaN for a straight line. */
export function arcLevelAt(arc: Arc): number {
  return arc.curvaturePerMm === 0 ? Number.NaN : arc.xMm - arc.sine / arc.curvaturePerMm;
}

/** Integral of the tangent over u: (cos a0 - cos a1) / k, written so that k = 0 needs no special case. */
function rise(u: number, sine: number, curvature: number): number {
  const end = sine + curvature * u;
  return ((sine + end) * u) / (Math.sqrt(1 - sine * sine) + Math.sqrt(1 - end * end));
}

/**
 * Least-squares arc through points from..to (inclusive): distances are taken square to the points' own mean line, which for
 * arcs of less than 60 degrees is within a few per cent of the distance from the circle. Gauss-Newton on the exact arc.
 * @returns null for fewer than four points, points on one vertical, or points that follow no arc
 */
export function fitArc(x: ArrayLike<number>, z: ArrayLike<number>, from: number, to: number): ArcFit | null {
  if (to - from < 3) return null;
  const { meanX, meanZ, cos, sin } = meanLine(x, z, from, to);
  if (!(cos > 1e-3)) return null;
  let [w0, sine, k] = [0, 0, 0];
  const normal = new Float64Array(9);
  for (let pass = 0; pass < 12; pass++) {
    normal.fill(0);
    for (let i = from; i <= to; i++) {
      const s = (x[i] - meanX) * cos + (z[i] - meanZ) * sin;
      const w = (z[i] - meanZ) * cos - (x[i] - meanX) * sin;
      addEquation(normal, s, w - w0 - rise(s, sine, k), sine, k);
    }
    const step = solve3(normal);
    if (step === null) return null;
    w0 += step[0];
    sine += step[1];
    k += step[2];
    if (!(Math.abs(sine) < STEEPEST)) return null;
    if (Math.abs(step[0]) < 1e-9 && Math.abs(step[1]) < 1e-11 && Math.abs(step[2]) < 1e-13) break;
  }
  const angle = Math.atan2(sin, cos) + Math.asin(sine);
  const arc = { xMm: meanX - w0 * sin, zMm: meanZ + w0 * cos, sine: Math.sin(angle), curvaturePerMm: k };
  return Math.cos(angle) > 0 ? withResiduals(arc, x, z, from, to) : null;
}

function meanLine(x: ArrayLike<number>, z: ArrayLike<number>, from: number, to: number) {
  let [meanX, meanZ, xx, xz, zz] = [0, 0, 0, 0, 0];
  const n = to - from + 1;
  for (let i = from; i <= to; i++) {
    meanX += x[i] / n;
    meanZ += z[i] / n;
  }
  for (let i = from; i <= to; i++) {
    xx += (x[i] - meanX) ** 2;
    xz += (x[i] - meanX) * (z[i] - meanZ);
    zz += (z[i] - meanZ) ** 2;
  }
  const angle = 0.5 * Math.atan2(2 * xz, xx - zz);
  return { meanX, meanZ, cos: Math.cos(angle), sin: Math.sin(angle) };
}

/** Adds one point to the normal equations: 6 entries of the matrix, then 3 of the right side. Derivatives by Simpson's rule. */
function addEquation(normal: Float64Array, s: number, residual: number, sine: number, k: number): void {
  const a = inverseCube(sine);
  const m = inverseCube(sine + (k * s) / 2);
  const e = inverseCube(sine + k * s);
  const bySine = (s * (a + 4 * m + e)) / 6;
  const byCurvature = (s * s * (2 * m + e)) / 6;
  normal[0] += 1;
  normal[1] += bySine;
  normal[2] += byCurvature;
  normal[3] += bySine * bySine;
  normal[4] += bySine * byCurvature;
  normal[5] += byCurvature * byCurvature;
  normal[6] += residual;
  normal[7] += bySine * residual;
  normal[8] += byCurvature * residual;
}

function inverseCube(sine: number): number {
  const square = 1 - sine * sine;
  return 1 / (square * Math.sqrt(square));
}

/** Solves the symmetric 3x3 system by elimination; null when it is singular to rounding or holds no numbers. */
function solve3([a, b, c, d, e, f, r, s, t]: Float64Array): [number, number, number] | null {
  const d1 = d - (b * b) / a;
  const e1 = e - (b * c) / a;
  const f1 = f - (c * c) / a;
  const s1 = s - (b * r) / a;
  const t1 = t - (c * r) / a;
  const f2 = f1 - (e1 * e1) / d1;
  if (!(d1 > 1e-12 * d && f2 > 1e-12 * f)) return null;
  const z = (t1 - (e1 * s1) / d1) / f2;
  const y = (s1 - e1 * z) / d1;
  return [(r - b * y - c * z) / a, y, z];
}

function withResiduals(arc: Arc, x: ArrayLike<number>, z: ArrayLike<number>, from: number, to: number): ArcFit | null {
  let [squares, worstMm] = [0, 0];
  for (let i = from; i <= to; i++) {
    const distance = (z[i] - arcHeight(arc, x[i])) * Math.cos(arcTangentRad(arc, x[i]));
    squares += distance * distance;
    worstMm = Math.max(worstMm, Math.abs(distance));
  }
  const rmsMm = Math.sqrt(squares / (to - from + 1));
  return Number.isFinite(rmsMm) ? { arc, rmsMm, worstMm } : null;
}
