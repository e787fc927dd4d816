import type { Jet1 } from './jet1.ts';
import { type Curve1, intervalOf } from './monotone-cubic.ts';

/** A spline that can be read without making anything: value, first and second derivative into out[from ... from + 2]. */
export interface CubicSpline extends Curve1 {
  into(at: number, out: Float64Array, from: number): void;
}

/**
 * C2 cubic spline through (x, y); third derivative continuous at the second and last-but-one knot ("not-a-knot"), the
 * end cubics carried on beyond the ends. Four knots or more; three give a parabola, two a line, one a constant.
 * Source: de Boor, A Practical Guide to Splines, ch. IV, from memory.
 * @param x strictly increasing knots
 */
export function cubicSpline(x: readonly number[], y: readonly number[]): CubicSpline {
  const n = x.length;
  if (n === 0 || y.length !== n) throw new RangeError('cubicSpline: needs as many values as knots, at least one');
  const curvature = n === 1 ? [0] : secondDerivatives(x, y);
  const into = (at: number, out: Float64Array, from: number): void => {
    const i = n === 1 ? 0 : intervalOf(x, at);
    const h = n === 1 ? 1 : x[i + 1]! - x[i]!;
    const rise = n === 1 ? 0 : y[i + 1]! - y[i]!;
    const u = at - x[i]!;
    const m0 = curvature[i]!;
    const m1 = curvature[i + 1] ?? 0;
    const slope = rise / h - (h * (2 * m0 + m1)) / 6;
    const third = (m1 - m0) / h;
    out[from] = y[i]! + u * (slope + u * (m0 / 2 + (u * third) / 6));
    out[from + 1] = slope + u * (m0 + (u * third) / 2);
    out[from + 2] = m0 + u * third;
  };
  return {
    into,
    at(at: number): Jet1 {
      const out = new Float64Array(3);
      into(at, out, 0);
      return [out[0]!, out[1]!, out[2]!];
    },
  };
}

/** Second derivatives at the knots; a dense solve, since a back has a dozen stations. */
function secondDerivatives(x: readonly number[], y: readonly number[]): number[] {
  const n = x.length;
  if (n === 2) return [0, 0];
  const h = (i: number) => x[i + 1]! - x[i]!;
  const secant = (i: number) => (y[i + 1]! - y[i]!) / h(i);
  if (n === 3) {
    const m = (2 * (secant(1) - secant(0))) / (h(0) + h(1));
    return [m, m, m];
  }
  const rows: number[][] = Array.from({ length: n }, () => new Array<number>(n + 1).fill(0));
  rows[0]!.splice(0, 3, h(1), -(h(0) + h(1)), h(0));
  for (let i = 1; i < n - 1; i++) {
    rows[i]!.splice(i - 1, 3, h(i - 1), 2 * (h(i - 1) + h(i)), h(i));
    rows[i]![n] = 6 * (secant(i) - secant(i - 1));
  }
  rows[n - 1]!.splice(n - 3, 3, h(n - 2), -(h(n - 3) + h(n - 2)), h(n - 3));
  return solveAugmented(rows);
}

/** Gaussian elimination with partial pivoting on rows [A | b]; the rows are overwritten. */
function solveAugmented(rows: number[][]): number[] {
  const n = rows.length;
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(rows[i]![k]!) > Math.abs(rows[pivot]![k]!)) pivot = i;
    [rows[k], rows[pivot]] = [rows[pivot]!, rows[k]!];
    for (let i = k + 1; i < n; i++) {
      const factor = rows[i]![k]! / rows[k]![k]!;
      for (let j = k; j <= n; j++) rows[i]![j]! -= factor * rows[k]![j]!;
    }
  }
  const out = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    let sum = rows[i]![n]!;
    for (let j = i + 1; j < n; j++) sum -= rows[i]![j]! * out[j]!;
    out[i] = sum / rows[i]![i]!;
  }
  return out;
}
