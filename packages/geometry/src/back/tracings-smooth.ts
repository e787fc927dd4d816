import { intervalOf, type Jet1 } from '../numeric/index.ts';

/** A section as heights over y: a C2 curve, straight beyond its ends. */
export interface SmoothCurve {
  readonly fromYMm: number;
  readonly toYMm: number;
  /** Largest distance from a traced point to the curve, mm, and where. */
  readonly worstMm: number;
  readonly worstYMm: number;
  at(yMm: number): Jet1;
  /** The value alone. */
  heightAt(yMm: number): number;
}

/** Waves shorter than this are the pencil's, not the horse's: halved at this length, fading beyond (our own choice). */
const CUT_WAVE_MM = 30;
/** The curve keeps within this of every traced point, mm: under the 0.5 mm that is promised. */
const MOST_AWAY_MM = 0.4;
const HALVINGS = 40;

/**
 * Natural cubic smoothing spline: least of sum h_j (z_j - f)^2 + mu int f''^2, h_j the spacing about a point, so that the
 * result doesn't depend on how densely was traced. mu starts at the cut's and is halved until every point is near.
 * Source: Green & Silverman, Nonparametric Regression (1994) ch. 2, after Reinsch (1967), from memory.
 * @param y rising, at least two
 */
export function smoothCurve(y: readonly number[], z: readonly number[]): SmoothCurve {
  let mu = (CUT_WAVE_MM / (2 * Math.PI)) ** 4;
  for (let halving = 0; halving < HALVINGS; halving++, mu /= 2) {
    const curve = splineOf(y, z, mu);
    if (curve.worstMm <= MOST_AWAY_MM) return curve;
  }
  return splineOf(y, z, 0);
}

function splineOf(y: readonly number[], z: readonly number[], mu: number): SmoothCurve {
  const n = y.length;
  const h = Float64Array.from({ length: n - 1 }, (_, i) => y[i + 1]! - y[i]!);
  const invWeight = Float64Array.from({ length: n }, (_, i) => 2 / ((h[i - 1] ?? h[i]!) + (h[i] ?? h[i - 1]!)));
  const bend = n > 2 ? solveBends(h, invWeight, z, mu) : new Float64Array(n);
  const f = Float64Array.from(z);
  for (let i = 0; i < n; i++) {
    // (Q bend)_i: the jump of the third difference.
    const before = i > 0 ? (bend[i]! - bend[i - 1]!) / h[i - 1]! : 0;
    const after = i + 1 < n ? (bend[i + 1]! - bend[i]!) / h[i]! : 0;
    f[i]! -= mu * invWeight[i]! * (after - before);
  }
  const at = (yMm: number): Jet1 => evaluate(y, f, bend, yMm);
  let worstMm = 0;
  let worstYMm = y[0]!;
  for (let i = 0; i < n; i++) {
    const slope = at(y[i]!)[1];
    const away = Math.abs(f[i]! - z[i]!) / Math.sqrt(1 + slope * slope);
    if (!(away > worstMm)) continue;
    worstMm = away;
    worstYMm = y[i]!;
  }
  const heightAt = quickHeights(y, f, bend);
  return { fromYMm: y[0]!, toYMm: y[n - 1]!, worstMm, worstYMm, at, heightAt };
}

/** Second derivatives at all knots (0 at the ends) from (R + mu Q' W^-1 Q) g = Q' z, five bands, by L D L'. */
function solveBends(h: Float64Array, invWeight: Float64Array, z: readonly number[], mu: number): Float64Array {
  const n = h.length + 1;
  const m = n - 2;
  const main = new Float64Array(m);
  const first = new Float64Array(m);
  const second = new Float64Array(m);
  const right = new Float64Array(m);
  for (let k = 0; k < m; k++) {
    const a = 1 / h[k]!;
    const b = 1 / h[k + 1]!;
    right[k] = (z[k + 2]! - z[k + 1]!) * b - (z[k + 1]! - z[k]!) * a;
    main[k] =
      (h[k]! + h[k + 1]!) / 3 +
      mu * (a * a * invWeight[k]! + (a + b) ** 2 * invWeight[k + 1]! + b * b * invWeight[k + 2]!);
    if (k + 1 < m) {
      const c = 1 / h[k + 2]!;
      first[k] = h[k + 1]! / 6 - mu * b * ((a + b) * invWeight[k + 1]! + (b + c) * invWeight[k + 2]!);
      if (k + 2 < m) second[k] = mu * b * c * invWeight[k + 2]!;
    }
  }
  for (let k = 0; k < m; k++) {
    const d = main[k]!;
    const l1 = first[k]! / d;
    const l2 = second[k]! / d;
    if (k + 1 < m) {
      main[k + 1]! -= l1 * first[k]!;
      first[k + 1]! -= l1 * second[k]!;
      right[k + 1]! -= l1 * right[k]!;
    }
    if (k + 2 < m) {
      main[k + 2]! -= l2 * second[k]!;
      right[k + 2]! -= l2 * right[k]!;
    }
  }
  const bend = new Float64Array(n);
  for (let k = m - 1; k >= 0; k--) {
    const next = k + 1 < m ? first[k]! * bend[k + 2]! : 0;
    const after = k + 2 < m ? second[k]! * bend[k + 3]! : 0;
    bend[k + 1] = (right[k]! - next - after) / main[k]!;
  }
  return bend;
}

function evaluate(y: readonly number[], f: Float64Array, bend: Float64Array, at: number): Jet1 {
  const n = y.length;
  const inside = Math.min(y[n - 1]!, Math.max(y[0]!, at));
  const i = intervalOf(y, inside);
  const h = y[i + 1]! - y[i]!;
  const u = inside - y[i]!;
  const m0 = bend[i]!;
  const third = (bend[i + 1]! - m0) / h;
  const start = (f[i + 1]! - f[i]!) / h - (h * (2 * m0 + bend[i + 1]!)) / 6;
  const slope = start + u * (m0 + (u * third) / 2);
  const value = f[i]! + u * (start + u * (m0 / 2 + (u * third) / 6)) + slope * (at - inside);
  return [value, slope, at === inside ? m0 + u * third : 0];
}

/** Values without derivatives, the cubics' coefficients prepared and the last interval tried first. */
function quickHeights(y: readonly number[], f: Float64Array, bend: Float64Array): (at: number) => number {
  const last = y.length - 1;
  const slope = new Float64Array(last);
  const third = new Float64Array(last);
  for (let i = 0; i < last; i++) {
    const h = y[i + 1]! - y[i]!;
    slope[i] = (f[i + 1]! - f[i]!) / h - (h * (2 * bend[i]! + bend[i + 1]!)) / 6;
    third[i] = (bend[i + 1]! - bend[i]!) / (6 * h);
  }
  let i = 0;
  return (at) => {
    if (!(at > y[0]! && at < y[last]!)) return evaluate(y, f, bend, at)[0];
    if (!(at >= y[i]! && at < y[i + 1]!)) i = intervalOf(y, at);
    const u = at - y[i]!;
    return f[i]! + u * (slope[i]! + u * (bend[i]! / 2 + u * third[i]!));
  };
}
