import type { BarMeasures, BarParameters } from '@barwright/geometry';

const DEG_PER_RAD = 180 / Math.PI;

/** Largest differences found so far, by what was compared. */
export type Worst = Map<string, number>;

const note = (worst: Worst, what: string, difference: number): void => {
  worst.set(what, Math.max(worst.get(what) ?? 0, Number.isFinite(difference) ? Math.abs(difference) : Infinity));
};

const sagittaOf = (curvature: number, chord: number): number =>
  curvature === 0 ? 0 : 1 / curvature - Math.sqrt(1 / curvature ** 2 - (chord / 2) ** 2);

/** What was measured against the numbers that the pattern was written with. Closed forms, no code of the bar. */
export function compareWithPattern(bar: BarMeasures, pattern: BarParameters, worst: Worst): void {
  for (const station of pattern.stations) {
    const got = bar.stations.find((s) => Math.abs(s.bMm - station.atMm) < 1e-3);
    if (got === undefined) throw new Error(`no station at ${station.atMm}`);
    note(worst, 'slopeDeg', got.slopeDeg - station.slopeRad * DEG_PER_RAD);
    note(worst, 'widthMm', got.widthMm - station.widthMm);
    note(worst, 'innerEdgeYMm', got.innerEdgeYMm - station.spreadMm / 2);
    note(worst, 'crownHeightMm', got.crownHeightMm - sagittaOf(station.crownCurvaturePerMm, station.widthMm));
    note(worst, 'reliefDepthMm', got.reliefDepthInnerMm - pattern.reliefDepthMm);
    note(worst, 'reliefDepthMm', got.reliefDepthOuterMm - pattern.reliefDepthMm);
    const strip = pattern.reliefFraction * station.widthMm * Math.cos(station.slopeRad);
    note(worst, 'reliefWidthMm', got.reliefWidthInnerMm - strip);
    note(worst, 'reliefWidthMm', got.reliefWidthOuterMm - strip);
  }
  const [bearing] = bar.rock;
  note(worst, 'sagMm', bearing.sagMm - sagittaOf(pattern.rockCurvaturePerMm, bearing.chordMm));
  note(worst, 'lowPointMm', (bar.lowPointMm ?? Number.NaN) - pattern.rockLowPointMm);
  note(worst, 'flareLiftMm', bar.flareFront.flareLiftMm - pattern.flareLiftFrontMm);
  note(worst, 'flareLiftMm', bar.flareRear.flareLiftMm - pattern.flareLiftRearMm);
  note(worst, 'flareZoneMm', bar.flareFront.flareZoneFromStartMm - pattern.flareZoneFrontMm);
  note(worst, 'flareZoneMm', bar.flareRear.flareZoneFromStartMm - pattern.flareZoneRearMm);
  note(worst, 'overallLengthMm', bar.overallLengthMm - pattern.lengthMm);
  const zones = pattern.flareZoneFrontMm + pattern.flareZoneRearMm;
  note(worst, 'bearingLengthMm', bar.bearingLengthMm - (pattern.lengthMm - zones));
}

/**
 * A mesh's measures against the exact ones of the same bar, where the pattern has no closed form. Relief ends are compared clear of
 * the rounded tip corners: within them the outline cuts into the relieved strip, and less than three facets of it are left.
 */
export function compareWithExact(bar: BarMeasures, exact: BarMeasures, pattern: BarParameters, worst: Worst): void {
  const { tipRoundMm, lengthMm } = pattern;
  for (const got of bar.stations) {
    const want = exact.stations.find((s) => Math.abs(s.bMm - got.bMm) < 1e-3);
    if (want === undefined) continue;
    note(worst, 'slopeDeg', got.slopeDeg - want.slopeDeg);
    note(worst, 'middleTangentSlopeDeg', got.middleTangentSlopeDeg - want.middleTangentSlopeDeg);
    if (got.bMm > tipRoundMm && got.bMm < lengthMm - tipRoundMm) {
      note(worst, 'reliefChordSlopeDeg', got.reliefChordSlopeDeg - want.reliefChordSlopeDeg);
    }
    note(worst, 'crownHeightMm', got.crownHeightMm - want.crownHeightMm);
  }
  for (const [k, line] of bar.rock.entries()) note(worst, `sagMm, ${line.line}`, line.sagMm - exact.rock[k].sagMm);
  note(worst, 'twistDeg', bar.twistDeg - exact.twistDeg);
  note(worst, 'flareThresholdZoneMm', bar.flareFront.flareZoneMm - exact.flareFront.flareZoneMm);
  note(worst, 'flareThresholdZoneMm', bar.flareRear.flareZoneMm - exact.flareRear.flareZoneMm);
}

/**
 * What DESIGN 2 asks of a pattern that comes back: 0.05 mm in heights and sags, 0.02 degrees in slopes. Lengths along a surface are
 * where a change sets in, which facets hide: those of a mesh get a tolerance of their own.
 */
export const ROUND_TRIP: ReadonlyMap<string, number> = new Map([
  ['slopeDeg', 0.02],
  ['middleTangentSlopeDeg', 0.02],
  ['reliefChordSlopeDeg', 0.02],
  ['twistDeg', 0.02],
  ['widthMm', 0.05],
  ['innerEdgeYMm', 0.05],
  ['crownHeightMm', 0.05],
  ['reliefDepthMm', 0.05],
  ['sagMm', 0.05],
  ['sagMm, bearing', 0.05],
  ['sagMm, inner edge', 0.05],
  ['sagMm, middle', 0.05],
  ['sagMm, outer edge', 0.05],
  ['flareLiftMm', 0.05],
  ['overallLengthMm', 0.05],
  ['reliefWidthMm', 0.25],
  ['lowPointMm', 0.25],
  ['flareZoneMm', 0.25],
  ['flareThresholdZoneMm', 0.5],
  ['bearingLengthMm', 0.5],
]);

/** The entries that lie beyond a tolerance, written out. */
export function beyond(worst: Worst, tolerances: ReadonlyMap<string, number>): string[] {
  const list: string[] = [];
  for (const [what, difference] of worst) {
    const tolerance = tolerances.get(what) ?? 0;
    if (!(difference <= tolerance)) list.push(`${what}: ${difference} over ${tolerance}`);
  }
  return list;
}
