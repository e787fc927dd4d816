import type { Chart } from './chart.ts';
import type { FootRows } from './distance-field.ts';

/** The foot is taken as found when its next step is shorter than this; the distance is then right to its square. */
const FOOT_TOLERANCE_MM = 1e-4;
/** Steps after the first evaluation. */
const STEP_LIMIT = 8;
/** 1 + d kappa is kept above this: beyond a centre of curvature the nearest point is not unique. */
const LEAST_STRETCH = 0.05;

/**
 * Distance rows of points [from, to) to one chart, horse frame, mm (see DistanceField.evaluate).
 *
 * The foot (a, b) is found by Gauss-Newton steps, which use first derivatives only: a full Newton step blows up on
 * noisy scans, where curvature times distance exceeds 1. From the second step on the step is scaled by the secant rule
 * of Barzilai & Borwein (1988, from memory) and halved when it leads away. The distance at the last foot,
 *   d = [w - f - (u - a) f_u - (v - b) f_v] / sqrt(g),  g = 1 + f_u^2 + f_v^2,
 * errs by the square of what is left of the foot's error.
 *
 * No data where a stencil on the way touches a node without data or leaves the grid.
 * One long function on purpose: it is the innermost loop of every fit, and allocates nothing.
 */
export function evaluateChart(
  chart: Chart,
  pointsMm: Float64Array,
  from: number,
  to: number,
  out: FootRows,
  wantHessian: boolean,
): void {
  const { coefficients, stencilOk, nu, nv, u0Mm, v0Mm, cellMm } = chart;
  const { distanceMm, footMm, normal, hasData } = out;
  const c = chart.cosTilt;
  const s = chart.sinTilt;
  const perCell = 1 / cellMm;
  const uEnd = nu - 1.5;
  const vEnd = nv - 1.5;
  const tolerance2 = FOOT_TOLERANCE_MM * FOOT_TOLERANCE_MM;

  for (let n = from; n < to; n++) {
    const n3 = 3 * n;
    const u = pointsMm[n3];
    const y = pointsMm[n3 + 1];
    const z = pointsMm[n3 + 2];
    const v = c * y - s * z;
    const w = s * y + c * z;
    let a = u;
    let b = v;
    // Last accepted foot, its squared distance, and the Gauss-Newton step found there.
    let lastA = u;
    let lastB = v;
    let lastSquare = Number.POSITIVE_INFINITY;
    let lastStepU = 0;
    let lastStepV = 0;
    let f = 0;
    let fu = 0;
    let fv = 0;
    let found = false;

    for (let k = 0; ; k++) {
      const gu = (a - u0Mm) * perCell;
      const gv = (b - v0Mm) * perCell;
      // Written so that NaN fails too.
      if (!(gu >= 0.5 && gu < uEnd && gv >= 0.5 && gv < vEnd)) break;
      const i = (gu + 0.5) | 0;
      const j = (gv + 0.5) | 0;
      const at = i * nv + j;
      if (stencilOk[at] === 0) break;
      const p = gu - i;
      const q = gv - j;
      const q0 = 0.5 * (0.5 - q) * (0.5 - q);
      const q1 = 0.75 - q * q;
      const q2 = 0.5 * (0.5 + q) * (0.5 + q);
      const e0 = q - 0.5;
      const e1 = -2 * q;
      const e2 = q + 0.5;
      const above = at - nv;
      const below = at + nv;
      const c00 = coefficients[above - 1];
      const c01 = coefficients[above];
      const c02 = coefficients[above + 1];
      const c10 = coefficients[at - 1];
      const c11 = coefficients[at];
      const c12 = coefficients[at + 1];
      const c20 = coefficients[below - 1];
      const c21 = coefficients[below];
      const c22 = coefficients[below + 1];
      const r0 = q0 * c00 + q1 * c01 + q2 * c02;
      const r1 = q0 * c10 + q1 * c11 + q2 * c12;
      const r2 = q0 * c20 + q1 * c21 + q2 * c22;
      const p0 = 0.5 * (0.5 - p) * (0.5 - p);
      const p1 = 0.75 - p * p;
      const p2 = 0.5 * (0.5 + p) * (0.5 + p);
      f = p0 * r0 + p1 * r1 + p2 * r2;
      fu = ((p - 0.5) * r0 - 2 * p * r1 + (p + 0.5) * r2) * perCell;
      fv =
        (p0 * (e0 * c00 + e1 * c01 + e2 * c02) +
          p1 * (e0 * c10 + e1 * c11 + e2 * c12) +
          p2 * (e0 * c20 + e1 * c21 + e2 * c22)) *
        perCell;

      const du = u - a;
      const dv = v - b;
      const r = w - f;
      const square = du * du + dv * dv + r * r;
      if (square > lastSquare + 1e-9 && k < STEP_LIMIT) {
        a = 0.5 * (a + lastA);
        b = 0.5 * (b + lastB);
        continue;
      }
      const g = 1 + fu * fu + fv * fv;
      const slopeU = du + r * fu;
      const slopeV = dv + r * fv;
      const stepU = ((1 + fv * fv) * slopeU - fu * fv * slopeV) / g;
      const stepV = ((1 + fu * fu) * slopeV - fu * fv * slopeU) / g;
      if (stepU * stepU + stepV * stepV < tolerance2 || k === STEP_LIMIT) {
        found = true;
        break;
      }
      let scale = 1;
      if (k > 0) {
        const movedU = a - lastA;
        const movedV = b - lastB;
        const turn = movedU * (lastStepU - stepU) + movedV * (lastStepV - stepV);
        const moved = movedU * movedU + movedV * movedV;
        // Between a fifth of the step and three steps; a turn that is not positive says nothing.
        if (turn * 3 > moved) scale = turn > 5 * moved ? 0.2 : moved / turn;
      }
      lastA = a;
      lastB = b;
      lastSquare = square;
      lastStepU = stepU;
      lastStepV = stepV;
      a += scale * stepU;
      b += scale * stepV;
    }

    if (!found) {
      hasData[n] = 0;
      continue;
    }
    const root = 1 / Math.sqrt(1 + fu * fu + fv * fv);
    const d = (w - f - (u - a) * fu - (v - b) * fv) * root;
    if (!(d - d === 0)) {
      hasData[n] = 0;
      continue;
    }
    hasData[n] = 1;
    distanceMm[n] = d;
    footMm[n3] = a;
    footMm[n3 + 1] = c * b + s * f;
    footMm[n3 + 2] = c * f - s * b;
    normal[n3] = -fu * root;
    normal[n3 + 1] = (s - c * fv) * root;
    normal[n3 + 2] = (c + s * fv) * root;
    if (wantHessian) writeHessian(chart, a, b, fu, fv, d, out.hessian, 6 * n);
  }
}

/**
 * Hessian of the distance: H = A S (1 + d S)^-1 I^-1 A^T with A the tangents (1, 0, f_u), (0, 1, f_v), I = A^T A and
 * S = -I^-1 II the shape operator, positive where the back is convex (do Carmo 1976, ch. 3, from memory).
 */
function writeHessian(
  chart: Chart,
  a: number,
  b: number,
  fu: number,
  fv: number,
  d: number,
  hessian: Float64Array,
  at: number,
): void {
  const { coefficients, nv, cosTilt: c, sinTilt: s } = chart;
  const perCell = 1 / chart.cellMm;
  const gu = (a - chart.u0Mm) * perCell;
  const gv = (b - chart.v0Mm) * perCell;
  const i = (gu + 0.5) | 0;
  const j = (gv + 0.5) | 0;
  const p = gu - i;
  const q = gv - j;
  const mid = i * nv + j;
  const q0 = 0.5 * (0.5 - q) * (0.5 - q);
  const q1 = 0.75 - q * q;
  const q2 = 0.5 * (0.5 + q) * (0.5 + q);
  let fuu = 0;
  let fuv = 0;
  let fvv = 0;
  for (let row = -1; row <= 1; row++) {
    const k = mid + row * nv;
    const c0 = coefficients[k - 1];
    const c1 = coefficients[k];
    const c2 = coefficients[k + 1];
    const second = row === 0 ? -2 : 1;
    const first = row === 0 ? -2 * p : p + 0.5 * row;
    const plain = row === 0 ? 0.75 - p * p : 0.5 * (0.5 + row * p) * (0.5 + row * p);
    fuu += second * (q0 * c0 + q1 * c1 + q2 * c2);
    fuv += first * ((q - 0.5) * c0 - 2 * q * c1 + (q + 0.5) * c2);
    fvv += plain * (c0 - 2 * c1 + c2);
  }
  const g = 1 + fu * fu + fv * fv;
  const k = (-perCell * perCell) / Math.sqrt(g);
  const l11 = fuu * k;
  const l12 = fuv * k;
  const l22 = fvv * k;
  const i11 = (1 + fv * fv) / g;
  const i12 = (-fu * fv) / g;
  const i22 = (1 + fu * fu) / g;
  const s11 = i11 * l11 + i12 * l12;
  const s12 = i11 * l12 + i12 * l22;
  const s21 = i12 * l11 + i22 * l12;
  const s22 = i12 * l12 + i22 * l22;
  // S (1 + d S)^-1 = alpha + beta S, from its two eigenvalues.
  const half = 0.5 * (s11 + s22);
  const spread = Math.sqrt(Math.max(0, half * half - (s11 * s22 - s12 * s21)));
  const high = half + spread;
  const low = half - spread;
  const stretchHigh = Math.max(LEAST_STRETCH, 1 + d * high);
  const stretchLow = Math.max(LEAST_STRETCH, 1 + d * low);
  const offHigh = high / stretchHigh;
  const beta = spread > 1e-12 ? (offHigh - low / stretchLow) / (2 * spread) : 1 / (stretchHigh * stretchHigh);
  const alpha = offHigh - beta * high;
  const t11 = alpha + beta * s11;
  const t12 = beta * s12;
  const t21 = beta * s21;
  const t22 = alpha + beta * s22;
  const m11 = t11 * i11 + t12 * i12;
  const m12 = 0.5 * (t11 * i12 + t12 * i22 + t21 * i11 + t22 * i12);
  const m22 = t21 * i12 + t22 * i22;
  // Tangents in the horse frame: (1, ty, tz) and (0, by, bz).
  const ty = s * fu;
  const tz = c * fu;
  const by = c + s * fv;
  const bz = c * fv - s;
  hessian[at] = m11;
  hessian[at + 1] = m11 * ty + m12 * by;
  hessian[at + 2] = m11 * tz + m12 * bz;
  hessian[at + 3] = m11 * ty * ty + 2 * m12 * ty * by + m22 * by * by;
  hessian[at + 4] = m11 * ty * tz + m12 * (ty * bz + tz * by) + m22 * by * bz;
  hessian[at + 5] = m11 * tz * tz + 2 * m12 * tz * bz + m22 * bz * bz;
}
