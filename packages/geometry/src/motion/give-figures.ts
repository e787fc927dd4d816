import type { BackSurface } from '../back/index.ts';
import type { Tree } from '../bar/index.ts';
import {
  contactFigures,
  type FlexFigures,
  flexFigures,
  gapFigures,
  measureMismatch,
  type SeatedTree,
  type SeatStatus,
  type Setup,
  seatTree,
  spineClearance,
  tipFigures,
  zoneLoads,
} from '../seating/index.ts';
import { tipEdgeGapMm } from './ride-stride.ts';

/** What is read of every variant when parts of a tree are compared. mm, kPa, N. */
export interface GiveFigures {
  readonly status: SeatStatus;
  readonly heightMm: number;
  readonly pitchDeg: number;
  readonly areaCm2: number;
  readonly meanKPa: number;
  readonly p95KPa: number;
  readonly peakKPa: number;
  /** Clearance under the middle of the bearing line, loaded, mean of both sides. */
  readonly middleGapMm: number | null;
  /** Laid on: middle against the bearing ends, mean of both sides, + bridges. */
  readonly lengthwiseMm: number | null;
  /** Least of both sides at the front tip edge, loaded. */
  readonly frontTipGapMm: number | null;
  readonly spineAlongMm: number | null;
  readonly zones: FlexFigures['zones'];
  readonly flex: FlexFigures | null;
}

/** Reads a seated tree; `laidOn` is the same tree laid on. */
export function giveFigures(seated: SeatedTree, laidOn: SeatedTree): GiveFigures {
  const contact = contactFigures(seated);
  const { lengthwiseLeftMm, lengthwiseRightMm } = measureMismatch(laidOn);
  return {
    status: seated.status,
    heightMm: seated.seat.pose.zMm,
    pitchDeg: (seated.seat.pose.pitchRad * 180) / Math.PI,
    areaCm2: contact.areaCm2,
    meanKPa: contact.meanPressureKPa,
    p95KPa: contact.p95PressureKPa,
    peakKPa: contact.peakPressureKPa,
    middleGapMm: gapFigures(seated).middleMm,
    lengthwiseMm: meanOf(lengthwiseLeftMm, lengthwiseRightMm),
    frontTipGapMm: least(tipFigures(seated).map(tipEdgeGapMm)),
    spineAlongMm: spineClearance(seated).alongMm,
    zones: zoneLoads(seated),
    flex: flexFigures(seated),
  };
}

/** Settles and lays on one variant and reads it. */
export function readGive(tree: Tree, back: BackSurface, setup: Setup): GiveFigures {
  const seated = seatTree(tree, back, setup);
  return giveFigures(seated, seatTree(tree, back, setup, { laidOn: true, samples: seated.samples }));
}

/** The setup with its bars bending or not. */
export const withBars = (setup: Setup, bars: Setup['flex']['bars']): Setup => ({
  ...setup,
  flex: { ...setup.flex, bars },
});

const meanOf = (a: number | null, b: number | null): number | null =>
  a === null || b === null ? (a ?? b) : (a + b) / 2;

function least(values: readonly (number | null)[]): number | null {
  const known = values.filter((value) => value !== null);
  return known.length === 0 ? null : Math.min(...known);
}
