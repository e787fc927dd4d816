import { intervalOf } from '../numeric/index.ts';

/**
 * Pressure against squeeze of a stack of layers. Squeeze c in mm; pressure p in MPa, 0 for c <= 0; tangent p' in MPa/mm;
 * energy per area in N/mm, its derivative exactly the pressure. p rises with c throughout, so the energy is convex.
 */
export interface SqueezeLaw {
  /** MPa/mm where one stiffness holds all the way, else null. */
  readonly linear: number | null;
  pressure(squeezeMm: number): number;
  /** 0 for c <= 0. */
  tangent(squeezeMm: number): number;
  energy(squeezeMm: number): number;
  /** The squeeze at which the law gives this pressure, mm; 0 for p <= 0. */
  squeeze(pressureMPa: number): number;
  /** All of them for every squeeze above 0, others 0. Arrays of one length. */
  fill(squeezeMm: Float64Array, pressure: Float64Array, tangent: Float64Array, energy: Float64Array): void;
}

/** p = k c. */
export function linearLaw(stiffness: number): SqueezeLaw {
  return {
    linear: stiffness,
    pressure: (c) => Math.max(0, stiffness * c),
    tangent: (c) => (c > 0 ? stiffness : 0),
    energy: (c) => (c > 0 ? 0.5 * stiffness * c * c : 0),
    squeeze: (p) => (p > 0 ? p / stiffness : 0),
    fill(squeeze, pressure, tangent, energy) {
      for (let i = 0; i < squeeze.length; i++) {
        const c = squeeze[i]!;
        const pressed = c > 0;
        pressure[i] = pressed ? stiffness * c : 0;
        tangent[i] = pressed ? stiffness : 0;
        energy[i] = pressed ? 0.5 * stiffness * c * c : 0;
      }
    },
  };
}

/** A point of a law: squeeze, pressure, and the pressure's slope there, all rising or above 0; the first is at (0, 0). */
export interface LawKnot {
  readonly squeezeMm: number;
  readonly pressureMPa: number;
  readonly slope: number;
}

/**
 * C1 piecewise cubic through the knots, going on straight beyond the last. Slopes are cut down to three times the lesser
 * neighbouring secant, which keeps every piece rising (Fritsch & Carlson, SIAM J. Numer. Anal. 17 (1980) 238-246, from
 * memory). The energy is the cubics' own integral.
 * @throws RangeError where knots don't rise from (0, 0) or a slope is not above 0
 */
export function knotLaw(knots: readonly LawKnot[]): SqueezeLaw {
  const n = knots.length;
  const c = Float64Array.from(knots, (k) => k.squeezeMm);
  const p = Float64Array.from(knots, (k) => k.pressureMPa);
  checkRise(c, p, knots);
  const slope = Float64Array.from(knots, (k, i) => {
    const before = i > 0 ? (p[i]! - p[i - 1]!) / (c[i]! - c[i - 1]!) : Number.POSITIVE_INFINITY;
    const after = i < n - 1 ? (p[i + 1]! - p[i]!) / (c[i + 1]! - c[i]!) : Number.POSITIVE_INFINITY;
    return Math.min(k.slope, 3 * before, 3 * after);
  });
  return tableOf(c, p, slope);
}

function checkRise(c: Float64Array, p: Float64Array, knots: readonly LawKnot[]): void {
  if (c.length < 2 || c[0] !== 0 || p[0] !== 0) throw new RangeError('knotLaw: needs two knots, the first at (0, 0)');
  for (let i = 0; i < c.length; i++) {
    const rises = i === 0 || (c[i]! > c[i - 1]! && p[i]! > p[i - 1]!);
    if (!rises || !(knots[i]!.slope > 0)) throw new RangeError(`knotLaw: does not rise at knot ${i}`);
  }
}

function tableOf(c: Float64Array, p: Float64Array, slope: Float64Array): SqueezeLaw {
  const last = c.length - 1;
  // Per piece: p = p0 + u (m + u (a + u b)); the piece beyond the last knot is straight.
  const a = new Float64Array(last + 1);
  const b = new Float64Array(last + 1);
  const stored = new Float64Array(last + 1);
  for (let i = 0; i < last; i++) {
    const h = c[i + 1]! - c[i]!;
    const secant = (p[i + 1]! - p[i]!) / h;
    a[i] = (3 * secant - 2 * slope[i]! - slope[i + 1]!) / h;
    b[i] = (slope[i]! + slope[i + 1]! - 2 * secant) / (h * h);
    stored[i + 1] = stored[i]! + h * (p[i]! + h * (slope[i]! / 2 + h * (a[i]! / 3 + (h * b[i]!) / 4)));
  }
  const coarse = startTable(c);
  const pieceOf = (at: number): number => (at >= c[last]! ? last : pieceFrom(c, coarse, at));
  const pressure = (at: number): number => {
    if (!(at > 0)) return 0;
    const i = pieceOf(at);
    const u = at - c[i]!;
    return p[i]! + u * (slope[i]! + u * (a[i]! + u * b[i]!));
  };
  const tangent = (at: number): number => {
    if (!(at > 0)) return 0;
    const i = pieceOf(at);
    const u = at - c[i]!;
    return slope[i]! + u * (2 * a[i]! + 3 * u * b[i]!);
  };
  return {
    linear: null,
    pressure,
    tangent,
    energy(at) {
      if (!(at > 0)) return 0;
      const i = pieceOf(at);
      const u = at - c[i]!;
      return stored[i]! + u * (p[i]! + u * (slope[i]! / 2 + u * (a[i]! / 3 + (u * b[i]!) / 4)));
    },
    squeeze(pressureMPa) {
      if (!(pressureMPa > 0)) return 0;
      if (pressureMPa >= p[last]!) return c[last]! + (pressureMPa - p[last]!) / slope[last]!;
      const i = intervalOf(p as unknown as readonly number[], pressureMPa);
      return bracketed((at) => [pressure(at) - pressureMPa, tangent(at)], c[i]!, c[i + 1]!);
    },
    fill: (squeeze, outPressure, outTangent, outEnergy) =>
      fillTable(c, p, slope, a, b, stored, coarse, squeeze, outPressure, outTangent, outEnergy),
  };
}

/** Takes arrays only: one pass over all cells per look. */
function fillTable(
  c: Float64Array,
  p: Float64Array,
  slope: Float64Array,
  a: Float64Array,
  b: Float64Array,
  stored: Float64Array,
  coarse: Int32Array,
  squeeze: Float64Array,
  pressure: Float64Array,
  tangent: Float64Array,
  energy: Float64Array,
): void {
  const last = c.length - 1;
  const end = c[last]!;
  for (let n = 0; n < squeeze.length; n++) {
    const at = squeeze[n]!;
    if (!(at > 0)) {
      pressure[n] = 0;
      tangent[n] = 0;
      energy[n] = 0;
      continue;
    }
    const i = at >= end ? last : pieceFrom(c, coarse, at);
    const u = at - c[i]!;
    const m = slope[i]!;
    const a2 = a[i]!;
    const b3 = b[i]!;
    pressure[n] = p[i]! + u * (m + u * (a2 + u * b3));
    tangent[n] = m + u * (2 * a2 + 3 * u * b3);
    energy[n] = stored[i]! + u * (p[i]! + u * (m / 2 + u * (a2 / 3 + (u * b3) / 4)));
  }
}

const COARSE = 512;

/** For equal steps of squeeze, the piece in which the step begins: where looking for a piece starts. */
function startTable(c: Float64Array): Int32Array {
  const last = c.length - 1;
  const start = new Int32Array(COARSE + 1);
  let i = 0;
  for (let k = 0; k <= COARSE; k++) {
    const at = (k / COARSE) * c[last]!;
    while (i < last - 1 && c[i + 1]! <= at) i++;
    start[k] = i;
  }
  return start;
}

/** The piece that holds 0 < at < the last knot. */
function pieceFrom(c: Float64Array, coarse: Int32Array, at: number): number {
  let i = coarse[Math.floor((at / c[c.length - 1]!) * COARSE)]!;
  while (c[i + 1]! <= at) i++;
  while (c[i]! > at) i--;
  return i;
}

/** Newton for a rising function within a bracket, halving where a step would leave it. */
export function bracketed(f: (x: number) => readonly [value: number, slope: number], from: number, to: number): number {
  let low = from;
  let high = to;
  let x = 0.5 * (low + high);
  for (let round = 0; round < 100; round++) {
    const [value, slope] = f(x);
    if (value === 0) return x;
    if (value < 0) low = x;
    else high = x;
    const next = x - value / slope;
    const stays = next > low && next < high;
    const to2 = stays ? next : 0.5 * (low + high);
    if (Math.abs(to2 - x) <= 4e-16 * Math.abs(x)) return to2;
    x = to2;
  }
  return x;
}
