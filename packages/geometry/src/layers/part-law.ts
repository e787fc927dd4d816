import type { SoftLaw } from './soft-materials.ts';
import { bracketed, knotLaw, type LawKnot } from './squeeze-law.ts';

export const MPA_PER_KPA = 1e-3;

/** Squeeze of one layer by pressure. */
export interface PartLaw {
  /** MPa/mm where one stiffness holds all the way. */
  readonly linear: number | null;
  /** mm under a pressure above 0, MPa. */
  squeeze(pressureMPa: number): number;
  /** MPa/mm at a pressure, 0 included. */
  slopeAt(pressureMPa: number): number;
  /** Pressures at which the second derivative jumps, MPa. */
  readonly kinks: readonly number[];
}

/** A soft material of this thickness, its pressures times `factor`. */
export const softPart = (law: SoftLaw, thicknessMm: number, factor: number): PartLaw =>
  law.kind === 'gas' ? gasPart(law, thicknessMm, factor) : curvePart(law.curve, thicknessMm, factor);

/** Pressure at a quarter of the thickness, kPa: the squeeze is known by pressure, so by halving. */
export function kPaAtQuarter({ squeeze }: Pick<PartLaw, 'squeeze'>, thicknessMm: number): number {
  let [low, high] = [0, 1];
  while (squeeze(high) < 0.25 * thicknessMm) high *= 2;
  for (let i = 0; i < 60; i++) {
    const mid = 0.5 * (low + high);
    if (squeeze(mid) < 0.25 * thicknessMm) low = mid;
    else high = mid;
  }
  return high / MPA_PER_KPA;
}

/** Pressure of a soft material squeezed by 25 %, kPa: what makers' sheets give. */
export const softAt25KPa = (law: SoftLaw): number => kPaAtQuarter(softPart(law, 1, 1), 1);

/** The same curve with every pressure times `factor`. */
export function scaledLaw(law: SoftLaw, factor: number): SoftLaw {
  if (law.kind === 'gas') return { ...law, wallsKPa: factor * law.wallsKPa, gasKPa: factor * law.gasKPa };
  return { ...law, curve: law.curve.map(([percent, kPa]) => [percent, factor * kPa] as const) };
}

/**
 * Closed cells: p = walls (1 - exp(-e / ramp)) + gas e / (1 - e - solid), e the share of the thickness squeezed. Rises
 * without end towards e = 1 - solid, starts at 0 with a finite slope (Gibson & Ashby, Cellular Solids ch. 5, from memory;
 * the walls' share, a plateau there, is ramped here so that nothing presses before anything is squeezed).
 */
function gasPart(
  { wallsKPa, ramp, gasKPa, solid }: Extract<SoftLaw, { kind: 'gas' }>,
  thicknessMm: number,
  factor: number,
): PartLaw {
  const walls = wallsKPa * factor * MPA_PER_KPA;
  const gas = gasKPa * factor * MPA_PER_KPA;
  const room = 1 - solid;
  const slope = (e: number): number => (walls / ramp) * Math.exp(-e / ramp) + (gas * room) / (room - e) ** 2;
  const share = (p: number): number => {
    if (!(p > 0)) return 0;
    // The gas alone would be squeezed further than both together.
    const most = (p * room) / (gas + p);
    return bracketed((e) => [(gas * e) / (room - e) - walls * Math.expm1(-e / ramp) - p, slope(e)], 0, most);
  };
  return {
    linear: null,
    squeeze: (p) => thicknessMm * share(p),
    slopeAt: (p) => slope(share(p)) / thicknessMm,
    kinks: [],
  };
}

/** C1 rising cubic through the curve's points from (0, 0), straight beyond the last. */
export function curvePart(
  curve: readonly (readonly [percent: number, kPa: number])[],
  thicknessMm: number,
  factor: number,
): PartLaw {
  const points = [[0, 0] as const, ...curve.filter(([percent]) => percent > 0)].map(([percent, kPa]) => ({
    squeezeMm: (percent / 100) * thicknessMm,
    pressureMPa: kPa * factor * MPA_PER_KPA,
  }));
  const law = knotLaw(withSlopes(points));
  return {
    linear: null,
    squeeze: (p) => law.squeeze(p),
    slopeAt: (p) => law.tangent(Math.max(law.squeeze(p), Number.MIN_VALUE)),
    kinks: points.slice(1).map((point) => point.pressureMPa),
  };
}

/** Weighted harmonic mean of the secants at inner points (Fritsch & Butland), and the end secants led on to the ends. */
function withSlopes(points: readonly Omit<LawKnot, 'slope'>[]): LawKnot[] {
  const n = points.length;
  const h = points.slice(1).map((point, i) => point.squeezeMm - points[i]!.squeezeMm);
  const s = points.slice(1).map((point, i) => (point.pressureMPa - points[i]!.pressureMPa) / h[i]!);
  const inner = points.map((_, i) => {
    if (i === 0 || i === n - 1) return 0;
    const before = 2 * h[i]! + h[i - 1]!;
    const after = h[i]! + 2 * h[i - 1]!;
    return (before + after) / (before / s[i - 1]! + after / s[i]!);
  });
  const end = (secant: number, next: number): number =>
    Math.min(3, Math.max(0.3, 1.5 - (0.5 * next) / secant)) * secant;
  return points.map((point, i) => {
    if (n === 2) return { ...point, slope: s[0]! };
    if (i === 0) return { ...point, slope: end(s[0]!, inner[1]!) };
    if (i === n - 1) return { ...point, slope: end(s[n - 2]!, inner[n - 2]!) };
    return { ...point, slope: inner[i]! };
  });
}
