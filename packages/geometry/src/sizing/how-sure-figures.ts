import type { Reading } from '../findings/index.ts';
import { tipFigures } from '../seating/index.ts';

/** Figures that get a band. null where there is none (no contact, off the data). */
export const BAND_FIGURES = {
  meanPressureKPa: (r) => r.contact.meanPressureKPa,
  p95PressureKPa: (r) => r.contact.p95PressureKPa,
  peakPressureKPa: (r) => r.contact.peakPressureKPa,
  areaCm2: (r) => r.contact.areaCm2,
  shareFront: (r) => r.contact.shareFront,
  shareMiddle: (r) => r.contact.shareMiddle,
  pitchDeg: (r) => (r.seated.seat.pose.pitchRad * 180) / Math.PI,
  rollDeg: (r) => (r.seated.seat.pose.rollRad * 180) / Math.PI,
  lengthwiseLeftMm: (r) => r.mismatch.lengthwiseLeftMm,
  lengthwiseRightMm: (r) => r.mismatch.lengthwiseRightMm,
  slopeFrontDeg: (r) => slopeMismatch(r, 0),
  slopeRearDeg: (r) => slopeMismatch(r, -1),
  tipGapMm: (r) => leastTip(r),
  spineAtForkMm: (r) => r.spine.atForkMm,
} as const satisfies Record<string, (reading: Reading) => number | null>;

export type BandFigure = keyof typeof BAND_FIGURES;

export const BAND_FIGURE_NAMES = Object.keys(BAND_FIGURES) as BandFigure[];

/** Mean of both bars at the first or the last station, bar less back. */
function slopeMismatch({ mismatch }: Reading, which: 0 | -1): number | null {
  const names = [...new Set(mismatch.stations.map(({ name }) => name))];
  const name = names.at(which);
  const at = mismatch.stations.filter((station) => station.name === name);
  return at.length === 0 ? null : at.reduce((sum, { mismatchDeg }) => sum + mismatchDeg, 0) / at.length;
}

function leastTip({ seated }: Reading): number | null {
  const gaps = tipFigures(seated).map(({ bearingGapMm }) => bearingGapMm);
  return gaps.some((gap) => gap === null) ? null : Math.min(...(gaps as number[]));
}
