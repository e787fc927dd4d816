import { type ArcFit, arcHeight, fitArc } from './measure-arc.ts';

export interface GrownArc extends ArcFit {
  /** First and last point that still follow the arc. */
  readonly from: number;
  readonly to: number;
  /** How far points may lie from the arc, mm. */
  readonly toleranceMm: number;
}

/** What leaves the arc towards one end of a curve: a flared tip, or the relief of an edge. */
export interface Departure {
  /** Distance along z from the arc at the end of the curve, mm, + upward. */
  readonly liftMm: number;
  /** x where it begins; the curve's end when nothing departs. */
  readonly startMm: number;
  /** x where the departure passes the stated threshold. */
  readonly thresholdMm: number;
}

/** Share of the points, from the middle, that are taken to follow the arc. */
const SEED_SHARE = 0.2;
/** Points this many times the seed's own scatter from the arc are noise still. */
const SCATTER = 4;
/** Share of the curve left out of the last fit beside a departure: its beginning is too faint to be seen. */
const GUARD_SHARE = 0.03;

/**
 * Finds the middle part of a curve that follows one arc: begins with the middle fifth, takes in points on both sides as long as
 * a fresh fit keeps every point within the tolerance, and then fits once more without a guard strip beside what it left out.
 * @param toleranceMm least tolerance; rough points raise it to four times the middle's own scatter
 * @returns null when the middle follows no arc
 */
export function growArc(x: ArrayLike<number>, z: ArrayLike<number>, toleranceMm: number): GrownArc | null {
  const n = x.length;
  const half = Math.max(2, Math.round((SEED_SHARE * n) / 2));
  const middle = (n - 1) / 2;
  let from = Math.max(0, Math.floor(middle - half));
  let to = Math.min(n - 1, Math.ceil(middle + half));
  const seed = fitArc(x, z, from, to);
  if (seed === null) return null;
  const tolerance = Math.max(toleranceMm, SCATTER * seed.rmsMm, seed.worstMm);
  const fits = (a: number, b: number): boolean => {
    const fit = fitArc(x, z, a, b);
    return fit !== null && fit.worstMm <= tolerance;
  };
  for (let step = Math.max(1, n >> 3); step >= 1; step >>= 1) {
    for (let moved = true; moved; ) {
      moved = false;
      const before = Math.max(0, from - step);
      if (before < from && fits(before, to)) [from, moved] = [before, true];
      const after = Math.min(n - 1, to + step);
      if (after > to && fits(from, after)) [to, moved] = [after, true];
    }
  }
  const guard = Math.ceil(GUARD_SHARE * n);
  const a = from === 0 ? 0 : from + guard;
  const b = to === n - 1 ? n - 1 : to - guard;
  const fit = fitArc(x, z, a, b) ?? fitArc(x, z, from, to) ?? seed;
  return { ...fit, from, to, toleranceMm: tolerance };
}

/**
 * How a curve leaves its arc towards one end. Its start is where the square root of the lift, continued as a straight line, comes
 * to nothing: exact for a lift that begins tangent and grows with the square of the way.
 * @param direction -1 towards the first point, +1 towards the last
 */
export function findDeparture(
  x: ArrayLike<number>,
  z: ArrayLike<number>,
  grown: Pick<GrownArc, 'arc' | 'from' | 'to' | 'toleranceMm'>,
  direction: 1 | -1,
  thresholdMm: number,
): Departure {
  const end = direction > 0 ? x.length - 1 : 0;
  const last = direction > 0 ? grown.to : grown.from;
  const liftAt = (i: number): number => z[i] - arcHeight(grown.arc, x[i]);
  const liftMm = liftAt(end);
  if (end === last) return { liftMm, startMm: x[end], thresholdMm: x[end] };
  const least = Math.max(SCATTER * grown.toleranceMm, 0.1 * liftMm);
  const line = rootLine(x, liftAt, last, end, direction, least, 0.8 * liftMm);
  const startMm = line === null ? x[last] : between(line, x[middleOf(grown)], x[end]);
  return { liftMm, startMm, thresholdMm: crossing(x, liftAt, end, direction, thresholdMm) };
}

const middleOf = (g: Pick<GrownArc, 'from' | 'to'>): number => (g.from + g.to) >> 1;
const between = (value: number, a: number, b: number): number =>
  Math.min(Math.max(value, Math.min(a, b)), Math.max(a, b));

/** Zero of the straight line through (x, sqrt(lift)) for lifts of least..most, or of least to the end when those are too few. */
function rootLine(
  x: ArrayLike<number>,
  liftAt: (i: number) => number,
  last: number,
  end: number,
  direction: 1 | -1,
  least: number,
  most: number,
): number | null {
  for (const top of [most, Number.POSITIVE_INFINITY]) {
    let [n, sx, sr, sxx, sxr] = [0, 0, 0, 0, 0];
    for (let i = last; direction * (end - i) >= 0; i += direction) {
      const lift = liftAt(i);
      if (!(lift >= least && lift <= top)) continue;
      const root = Math.sqrt(lift);
      n++;
      sx += x[i];
      sr += root;
      sxx += x[i] * x[i];
      sxr += x[i] * root;
    }
    const slope = (n * sxr - sx * sr) / (n * sxx - sx * sx);
    if (n >= 3 && direction * slope > 0) return (sx - sr / slope) / n;
  }
  return null;
}

/** From the end inwards, x where the lift first falls to the threshold; the end itself when it never exceeds it. */
function crossing(
  x: ArrayLike<number>,
  liftAt: (i: number) => number,
  end: number,
  direction: 1 | -1,
  thresholdMm: number,
): number {
  if (!(liftAt(end) > thresholdMm)) return x[end];
  for (let i = end - direction; i >= 0 && i < x.length; i -= direction) {
    const inner = liftAt(i);
    if (inner > thresholdMm) continue;
    const a = Math.sqrt(Math.max(0, inner));
    const b = Math.sqrt(liftAt(i + direction));
    const share = (Math.sqrt(thresholdMm) - a) / (b - a);
    return x[i] + share * (x[i + direction] - x[i]);
  }
  return x[end];
}
