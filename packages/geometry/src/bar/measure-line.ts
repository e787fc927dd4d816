import { type ArcFit, arcLevelAt, fitArc } from './measure-arc.ts';

export type LineName = 'bearing' | 'inner edge' | 'middle' | 'outer edge';

/** Rock along one line; definitions by name in MEASURE_DEFINITIONS. mm */
export interface RockMeasures {
  readonly line: LineName;
  readonly chordFromMm: number;
  readonly chordToMm: number;
  readonly chordMm: number;
  readonly sagMm: number;
  readonly radiusMm: number | null;
  readonly radiusFitMm: number | null;
}

/** Height of a line by station, mm; NaN where it has none. */
export type LineHeight = (bMm: number) => number;

const POINTS = 41;
/** Arcs flatter than this have no radius that a ruler could tell from flat, mm. */
export const FLATTEST_RADIUS_MM = 200_000;

export const radiusOf = (curvaturePerMm: number): number | null =>
  Math.abs(curvaturePerMm) * FLATTEST_RADIUS_MM < 1 ? null : 1 / curvaturePerMm;

/** Radius of the arc of a given chord and sag, exact: c^2 / (8 s) + s / 2. Source: intersecting chords, Euclid III.35. */
export function radiusFromSag(chordMm: number, sagMm: number): number | null {
  return radiusOf((8 * sagMm) / (chordMm * chordMm + 4 * sagMm * sagMm));
}

/** Rock of one line over the chord from station to station; null where an end of the chord has no surface. */
export function measureRock(line: LineName, height: LineHeight, fromMm: number, toMm: number): RockMeasures | null {
  const z0 = height(fromMm);
  const z1 = height(toMm);
  const chordMm = Math.hypot(toMm - fromMm, z1 - z0);
  if (!(chordMm > 0)) return null;
  const cos = (toMm - fromMm) / chordMm;
  const sin = (z1 - z0) / chordMm;
  let b = (fromMm + toMm) / 2;
  for (let i = 0, step = 1; i < 20 && Math.abs(step) > 1e-6; i++) {
    step = (chordMm / 2 - (b - fromMm) * cos - (height(b) - z0) * sin) * cos;
    b += step;
  }
  const sagMm = (b - fromMm) * sin - (height(b) - z0) * cos;
  const fit = fitLine(height, fromMm, toMm);
  if (!Number.isFinite(sagMm) || fit === null) return null;
  return {
    line,
    chordFromMm: fromMm,
    chordToMm: toMm,
    chordMm,
    sagMm,
    radiusMm: radiusFromSag(chordMm, sagMm),
    radiusFitMm: radiusOf(fit.arc.curvaturePerMm),
  };
}

/** Least-squares arc of a line from station to station; null where too little of it has a surface. */
export function fitLine(height: LineHeight, fromMm: number, toMm: number): ArcFit | null {
  const all = Array.from({ length: POINTS }, (_, i) => fromMm + ((toMm - fromMm) * i) / (POINTS - 1));
  const b = all.filter((at) => Number.isFinite(height(at)));
  return b.length < POINTS / 2 ? null : fitArc(b, b.map(height), 0, b.length - 1);
}

/** Share of the length on both sides of the lowest sample whose arc gives the low point. */
const LOW_WINDOW = 0.15;

/**
 * Station where a line is level at its lowest, mm: from the arc of the stations around the lowest one, so that facets do not show.
 * null for a straight line, and where the line is lowest at an end of the range.
 */
export function findLowPoint(height: LineHeight, fromMm: number, toMm: number): number | null {
  let [lowest, lowestZ] = [Number.NaN, Number.POSITIVE_INFINITY];
  for (let i = 0; i < POINTS; i++) {
    const b = fromMm + ((toMm - fromMm) * i) / (POINTS - 1);
    const z = height(b);
    if (z < lowestZ) [lowest, lowestZ] = [b, z];
  }
  const window = LOW_WINDOW * (toMm - fromMm);
  const fit = fitLine(height, Math.max(fromMm, lowest - window), Math.min(toMm, lowest + window));
  if (fit === null || radiusOf(fit.arc.curvaturePerMm) === null || fit.arc.curvaturePerMm < 0) return null;
  const level = arcLevelAt(fit.arc);
  return level >= fromMm && level <= toMm ? level : null;
}
