import type { Chart } from './chart.ts';
import type { FootHints, FootRows } from './distance-field.ts';

/** The foot is taken as found when its next Gauss-Newton step is shorter than this. */
const FOOT_TOLERANCE_MM = 1e-4;
/** A Newton step this short is taken as the last one, on the spline's own polynomial: what is left is its square. */
const LAST_STEP_MM = 4e-3;
/** The same for a step onto a neighbouring polynomial, whose bend may differ. */
const CROSSING_STEP_MM = 1e-6;
/** Evaluations whose next step may use second derivatives; after them the surface counts as rough. */
const NEWTON_STEPS = 5;
/** Steps after the first evaluation. */
const STEP_LIMIT = 8;
/** 1 + d kappa is kept above this: beyond a centre of curvature the nearest point is not unique. */
const LEAST_STRETCH = 0.05;
const EVERYWHERE: FootHints = Object.freeze({});

/**
 * Distance rows of points [from, to) to one chart, horse frame, mm (see DistanceField.evaluate).
 *
 * The foot (a, b) is found by Newton steps where the surface bends gently against the distance, and by Gauss-Newton
 * steps elsewhere and after the fifth evaluation, because a full Newton step blows up on noisy scans, where curvature
 * times distance exceeds 1. Gauss-Newton steps are scaled by the secant rule of Barzilai & Borwein (1988, from memory);
 * every step is halved when it leads away. The distance at the last foot,
 *   d = [w - f - (u - a) f_u - (v - b) f_v] / sqrt(g),  g = 1 + f_u^2 + f_v^2,
 * errs by the square of what is left of the foot's error.
 *
 * No data where a stencil on the way touches a node without data or leaves the grid.
 */
export function evaluateChart(
  chart: Chart,
  pointsMm: Float64Array,
  from: number,
  to: number,
  out: FootRows,
  wantHessian: boolean,
  hints: FootHints = EVERYWHERE,
): void {
  findFeet(
    chart.coefficients,
    chart.stencilOk,
    chart.nu,
    chart.nv,
    chart.u0Mm,
    chart.v0Mm,
    chart.cellMm,
    chart.cosTilt,
    chart.sinTilt,
    pointsMm,
    from,
    to,
    out.distanceMm,
    out.footMm,
    out.normal,
    out.hessian,
    out.hasData,
    wantHessian ? (hints.hessianBelowMm ?? Number.POSITIVE_INFINITY) : Number.NEGATIVE_INFINITY,
    hints.nearRows === true,
  );
}

/**
 * One long function on purpose: it is the innermost loop of every fit, and allocates nothing. It takes arrays and numbers
 * only, because compiled code that has seen the shape of a short-lived object is thrown away with that object.
 */
function findFeet(
  coefficients: Float32Array,
  stencilOk: Uint8Array,
  nu: number,
  nv: number,
  u0Mm: number,
  v0Mm: number,
  cellMm: number,
  c: number,
  s: number,
  pointsMm: Float64Array,
  from: number,
  to: number,
  distanceMm: Float64Array,
  footMm: Float64Array,
  normal: Float64Array,
  hessian: Float64Array,
  hasData: Uint8Array,
  hessianBelow: number,
  nearRows: boolean,
): void {
  const perCell = 1 / cellMm;
  const perCell2 = perCell * perCell;
  const uEnd = nu - 1.5;
  const vEnd = nv - 1.5;
  const tolerance2 = FOOT_TOLERANCE_MM * FOOT_TOLERANCE_MM;
  const last2 = LAST_STEP_MM * LAST_STEP_MM;
  const crossing2 = CROSSING_STEP_MM * CROSSING_STEP_MM;

  for (let n = from; n < to; n++) {
    const n3 = 3 * n;
    const u = pointsMm[n3];
    const y = pointsMm[n3 + 1];
    const z = pointsMm[n3 + 2];
    const v = c * y - s * z;
    const w = s * y + c * z;
    let a = u;
    let b = v;
    if (nearRows && hasData[n] === 1) {
      // The old foot, moved along with the point's motion within the tangent plane.
      const above = pointAbove(u, y, z, footMm, normal, n3);
      a = u - above * normal[n3];
      b = v - above * (c * normal[n3 + 1] - s * normal[n3 + 2]);
    } else {
      // One Newton step on the differences of the nearest node's cross, good for a first foot.
      const gu = (u - u0Mm) * perCell;
      const gv = (v - v0Mm) * perCell;
      if (gu >= 0.5 && gu < uEnd && gv >= 0.5 && gv < vEnd) {
        const i = (gu + 0.5) | 0;
        const j = (gv + 0.5) | 0;
        const at = i * nv + j;
        if (stencilOk[at] === 0) {
          hasData[n] = 0;
          continue;
        }
        const here = coefficients[at];
        const west = coefficients[at - nv];
        const east = coefficients[at + nv];
        const south = coefficients[at - 1];
        const north = coefficients[at + 1];
        const bendU = (east - 2 * here + west) * perCell2;
        const bendV = (north - 2 * here + south) * perCell2;
        const inU = (gu - i) * cellMm;
        const inV = (gv - j) * cellMm;
        const slopeU = 0.5 * (east - west) * perCell + bendU * inU;
        const slopeV = 0.5 * (north - south) * perCell + bendV * inV;
        const r = w - here - inU * (slopeU - 0.5 * bendU * inU) - inV * (slopeV - 0.5 * bendV * inV);
        const h11 = 1 + slopeU * slopeU - r * bendU;
        const h12 = slopeU * slopeV;
        const h22 = 1 + slopeV * slopeV - r * bendV;
        const det = h11 * h22 - h12 * h12;
        if (det > 0.3 && det < 10 && h11 > 0.3) {
          const scale = r / det;
          a += scale * (h22 * slopeU - h12 * slopeV);
          b += scale * (h11 * slopeV - h12 * slopeU);
        }
      }
    }
    // Last accepted foot, its squared distance, and the Gauss-Newton step found there.
    let lastA = a;
    let lastB = b;
    let lastSquare = Number.POSITIVE_INFINITY;
    let lastStepU = 0;
    let lastStepV = 0;
    let f = 0;
    let fu = 0;
    let fv = 0;
    let fuu = 0;
    let fuv = 0;
    let fvv = 0;
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
      const e0 = q - 0.5;
      const e1 = -2 * q;
      const e2 = q + 0.5;
      const q0 = 0.5 * e0 * e0;
      const q1 = 0.75 - q * q;
      const q2 = 0.5 * e2 * e2;
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
      const t0 = e0 * c00 + e1 * c01 + e2 * c02;
      const t1 = e0 * c10 + e1 * c11 + e2 * c12;
      const t2 = e0 * c20 + e1 * c21 + e2 * c22;
      const d0 = p - 0.5;
      const d1 = -2 * p;
      const d2 = p + 0.5;
      const p0 = 0.5 * d0 * d0;
      const p1 = 0.75 - p * p;
      const p2 = 0.5 * d2 * d2;
      f = p0 * r0 + p1 * r1 + p2 * r2;
      fu = (d0 * r0 + d1 * r1 + d2 * r2) * perCell;
      fv = (p0 * t0 + p1 * t1 + p2 * t2) * perCell;
      fuu = (r0 - 2 * r1 + r2) * perCell2;
      fuv = (d0 * t0 + d1 * t1 + d2 * t2) * perCell2;
      fvv = (p0 * (c00 - 2 * c01 + c02) + p1 * (c10 - 2 * c11 + c12) + p2 * (c20 - 2 * c21 + c22)) * perCell2;

      const du = u - a;
      const dv = v - b;
      const r = w - f;
      const square = du * du + dv * dv + r * r;
      if (square > lastSquare + 1e-9 && k < STEP_LIMIT) {
        a = 0.5 * (a + lastA);
        b = 0.5 * (b + lastB);
        continue;
      }
      const slopeU = du + r * fu;
      const slopeV = dv + r * fv;
      const g = 1 + fu * fu + fv * fv;
      const h11 = 1 + fu * fu - r * fuu;
      const h12 = fu * fv - r * fuv;
      const h22 = 1 + fv * fv - r * fvv;
      const det = h11 * h22 - h12 * h12;
      if (k < NEWTON_STEPS && det > 0.3 * g && det < 3 * g && h11 > 0.3) {
        const perDet = 1 / det;
        const stepU = (h22 * slopeU - h12 * slopeV) * perDet;
        const stepV = (h11 * slopeV - h12 * slopeU) * perDet;
        lastA = a;
        lastB = b;
        lastSquare = square;
        lastStepU = stepU;
        lastStepV = stepV;
        a += stepU;
        b += stepV;
        const moved2 = stepU * stepU + stepV * stepV;
        const nextU = p + stepU * perCell;
        const nextV = q + stepV * perCell;
        const stays = nextU >= -0.5 && nextU < 0.5 && nextV >= -0.5 && nextV < 0.5;
        if (moved2 < (stays ? last2 : crossing2)) {
          f += (fu + 0.5 * (fuu * stepU + fuv * stepV)) * stepU + (fv + 0.5 * (fuv * stepU + fvv * stepV)) * stepV;
          fu += fuu * stepU + fuv * stepV;
          fv += fuv * stepU + fvv * stepV;
          found = true;
          break;
        }
        continue;
      }
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
    if (d < hessianBelow) writeHessian(c, s, fu, fv, fuu, fuv, fvv, d, hessian, 6 * n);
  }
}

/** Height of a point above the tangent plane of an earlier answer, mm. */
function pointAbove(x: number, y: number, z: number, foot: Float64Array, normal: Float64Array, at: number): number {
  return (x - foot[at]) * normal[at] + (y - foot[at + 1]) * normal[at + 1] + (z - foot[at + 2]) * normal[at + 2];
}

/**
 * Hessian of the distance: H = A S (1 + d S)^-1 I^-1 A^T with A the tangents (1, 0, f_u), (0, 1, f_v), I = A^T A and
 * S = -I^-1 II the shape operator, positive where the back is convex (do Carmo 1976, ch. 3, from memory).
 */
function writeHessian(
  c: number,
  s: number,
  fu: number,
  fv: number,
  fuu: number,
  fuv: number,
  fvv: number,
  d: number,
  hessian: Float64Array,
  at: number,
): void {
  const perG = 1 / (1 + fu * fu + fv * fv);
  const k = -Math.sqrt(perG);
  const i11 = (1 + fv * fv) * perG;
  const i12 = -fu * fv * perG;
  const i22 = (1 + fu * fu) * perG;
  const l11 = fuu * k;
  const l12 = fuv * k;
  const l22 = fvv * k;
  const s11 = i11 * l11 + i12 * l12;
  const s12 = i11 * l12 + i12 * l22;
  const s21 = i12 * l11 + i22 * l12;
  const s22 = i12 * l12 + i22 * l22;
  const trace = s11 + s22;
  const determinant = s11 * s22 - s12 * s21;
  const stretch = 1 + d * (trace + d * determinant);
  // S (1 + d S)^-1 = alpha + beta S, by Cayley and Hamilton where both stretches are above the least.
  let beta = 1 / stretch;
  let alpha = d * determinant * beta;
  if (!(stretch - LEAST_STRETCH * (2 + d * trace - LEAST_STRETCH) >= 0 && 2 + d * trace >= 2 * LEAST_STRETCH)) {
    const half = 0.5 * trace;
    const spread = Math.sqrt(Math.max(0, half * half - determinant));
    const high = half + spread;
    const low = half - spread;
    const stretchHigh = Math.max(LEAST_STRETCH, 1 + d * high);
    const stretchLow = Math.max(LEAST_STRETCH, 1 + d * low);
    const offHigh = high / stretchHigh;
    beta = spread > 1e-12 ? (offHigh - low / stretchLow) / (2 * spread) : 1 / (stretchHigh * stretchHigh);
    alpha = offHigh - beta * high;
  }
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
