import { createHeightJet, type Underside, type UndersideLift } from '../bar/index.ts';
import { createSplineRow, evaluateSplines, SPLINE_ORDER, type SplineBasis, type SplineRow } from '../numeric/index.ts';
import type { ShellPatch } from './shell-strains.ts';

/**
 * A bent bar's underside as the unloaded one with a height added: v = u_z - z_b u_b - z_y u_y, to first order in the
 * displacement, interpolated by the shell's own splines. It is measured with, because it is the shape that bears. The edge
 * relief's own steep slope is left out of z_y: on that strip the height may be off by a tenth of the move.
 */
export function deflectionLift(bar: Underside, patch: ShellPatch, u: Float64Array): UndersideLift {
  const { along, across } = patch;
  const heights = liftAtSites(bar, patch, u);
  const coefficients = interpolate(along, across, heights);
  const [rb, rt] = [createSplineRow(), createSplineRow()];
  return {
    measured: true,
    fill(bMm, t, out) {
      evaluateSplines(along, bMm, rb);
      evaluateSplines(across, t, rt);
      out.v = sum(coefficients, across.count, rb, rt, rb.value, rt.value);
      out.vb = sum(coefficients, across.count, rb, rt, rb.slope, rt.value);
      out.vt = sum(coefficients, across.count, rb, rt, rb.value, rt.slope);
      out.vbb = sum(coefficients, across.count, rb, rt, rb.bend, rt.value);
      out.vbt = sum(coefficients, across.count, rb, rt, rb.slope, rt.slope);
      out.vtt = sum(coefficients, across.count, rb, rt, rb.value, rt.bend);
      return out;
    },
  };
}

/** Where a function of the basis is best pinned down: the mean of its inner knots (Greville). */
function sites({ knots, count }: SplineBasis): number[] {
  return Array.from({ length: count }, (_, i) => (knots[i + 1]! + knots[i + 2]! + knots[i + 3]!) / 3);
}

function liftAtSites(bar: Underside, { along, across }: ShellPatch, u: Float64Array): Float64Array[] {
  const [rb, rt] = [createSplineRow(), createSplineRow()];
  const jet = createHeightJet();
  const part = (a: number): Float64Array => u.filter((_, i) => i % 3 === a);
  const [ub, uy, uz] = [part(0), part(1), part(2)];
  return sites(along).map((b) => {
    const row = bar.row(b);
    evaluateSplines(along, b, rb);
    return Float64Array.from(sites(across), (t) => {
      evaluateSplines(across, t, rt);
      bar.heightJet(row, row.middleY[0] + t * row.halfWidthY[0], jet, true);
      const of = (v: Float64Array): number => sum(v, across.count, rb, rt, rb.value, rt.value);
      return of(uz) - (jet.zb + row.flare[1]) * of(ub) - jet.zy * of(uy);
    });
  });
}

function sum(
  coefficients: Float64Array,
  countAcross: number,
  rb: SplineRow,
  rt: SplineRow,
  nb: Float64Array,
  nt: Float64Array,
): number {
  let total = 0;
  for (let i = 0; i < SPLINE_ORDER; i++) {
    const at = (rb.first + i) * countAcross + rt.first;
    let line = 0;
    for (let k = 0; k < SPLINE_ORDER; k++) line += nt[k]! * coefficients[at + k]!;
    total += nb[i]! * line;
  }
  return total;
}

/** Coefficients whose spline takes the heights at the sites: across for every row, then along. */
function interpolate(along: SplineBasis, across: SplineBasis, heights: readonly Float64Array[]): Float64Array {
  const nt = across.count;
  const solveAcross = collocation(across);
  const rows = heights.map((row) => solveAcross(row));
  const out = new Float64Array(along.count * nt);
  const solveAlong = collocation(along);
  for (let k = 0; k < nt; k++) {
    solveAlong(Float64Array.from(rows, (row) => row[k]!)).forEach((value, i) => {
      out[i * nt + k] = value;
    });
  }
  return out;
}

/** Solves for coefficients from values at the sites, by elimination without exchange: the matrix is totally positive. */
function collocation(basis: SplineBasis): (values: Float64Array) => Float64Array {
  const n = basis.count;
  const matrix = new Float64Array(n * n);
  const row = createSplineRow();
  sites(basis).forEach((x, i) => {
    evaluateSplines(basis, x, row);
    matrix.set(row.value, i * n + row.first);
  });
  for (let k = 0; k < n; k++) {
    for (let i = k + 1; i < Math.min(n, k + SPLINE_ORDER); i++) {
      const factor = matrix[i * n + k]! / matrix[k * n + k]!;
      matrix[i * n + k] = factor;
      for (let j = k + 1; j < Math.min(n, k + 2 * SPLINE_ORDER); j++) matrix[i * n + j]! -= factor * matrix[k * n + j]!;
    }
  }
  return (values) => {
    const x = Float64Array.from(values);
    for (let k = 0; k < n; k++) {
      for (let i = k + 1; i < Math.min(n, k + SPLINE_ORDER); i++) x[i]! -= matrix[i * n + k]! * x[k]!;
    }
    for (let i = n - 1; i >= 0; i--) {
      for (let j = i + 1; j < Math.min(n, i + 2 * SPLINE_ORDER); j++) x[i]! -= matrix[i * n + j]! * x[j]!;
      x[i]! /= matrix[i * n + i]!;
    }
    return x;
  };
}
