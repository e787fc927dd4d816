import type { Jet1 } from './jet1.ts';

/** A function of one variable with its first two derivatives. */
export interface Curve1 {
  /** Value, first and second derivative at x. */
  at(x: number): Jet1;
}

/**
 * C1 piecewise cubic through (x, y) without overshoot, constant beyond the first and last knot, so its slope there is 0.
 * Inner slopes: weighted harmonic mean of the neighbouring secants, 0 at a turning point.
 * Source: Fritsch & Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300-304, from memory.
 * @param x strictly increasing knots, at least one
 */
export function monotoneCubic(x: readonly number[], y: readonly number[]): Curve1 {
  const n = x.length;
  if (n === 0 || y.length !== n) throw new RangeError('monotoneCubic: needs as many values as knots, at least one');
  const slopes = innerSlopes(x, y);
  return {
    at(at: number): Jet1 {
      if (at <= x[0]! || n === 1) return [y[0]!, 0, 0];
      if (at >= x[n - 1]!) return [y[n - 1]!, 0, 0];
      const i = intervalOf(x, at);
      return hermite(at - x[i]!, x[i + 1]! - x[i]!, y[i]!, y[i + 1]!, slopes[i]!, slopes[i + 1]!);
    },
  };
}

/** Index i with x[i] <= at < x[i+1]; clamps to the first and last interval. */
export function intervalOf(x: readonly number[], at: number): number {
  let low = 0;
  let high = x.length - 2;
  while (low < high) {
    const mid = (low + high + 1) >> 1;
    if (x[mid]! <= at) low = mid;
    else high = mid - 1;
  }
  return low;
}

function innerSlopes(x: readonly number[], y: readonly number[]): number[] {
  const slopes = new Array<number>(x.length).fill(0);
  for (let i = 1; i < x.length - 1; i++) {
    const before = x[i]! - x[i - 1]!;
    const after = x[i + 1]! - x[i]!;
    const left = (y[i]! - y[i - 1]!) / before;
    const right = (y[i + 1]! - y[i]!) / after;
    if (left * right <= 0) continue;
    const wl = 2 * after + before;
    const wr = after + 2 * before;
    slopes[i] = (wl + wr) / (wl / left + wr / right);
  }
  return slopes;
}

/** Cubic Hermite on [0, h] at offset u: value, first, second derivative. */
export function hermite(u: number, h: number, y0: number, y1: number, m0: number, m1: number): Jet1 {
  const secant = (y1 - y0) / h;
  const c2 = (3 * secant - 2 * m0 - m1) / h;
  const c3 = (m0 + m1 - 2 * secant) / (h * h);
  return [y0 + u * (m0 + u * (c2 + u * c3)), m0 + u * (2 * c2 + 3 * u * c3), 2 * c2 + 6 * u * c3];
}
