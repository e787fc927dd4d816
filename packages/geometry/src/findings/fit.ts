import type { BackSurface } from '../back/index.ts';
import { sampleBars, type Tree } from '../bar/index.ts';
import {
  bearingCapacity,
  contactFigures,
  type FlexState,
  type Pose,
  type SeatedTree,
  type SeatTreeOptions,
  type Setup,
  seatTree,
  shimTree,
} from '../seating/index.ts';
import { findAll } from './find-all.ts';
import type { FitResult } from './fit-result.ts';
import { summariseFit } from './summarise-fit.ts';

/** How much to work out. Everything above 'figures' re-runs the seating many times. */
export type FitDetail = 'figures' | 'findings' | 'full';

export interface FitOptions {
  /** 'figures': pose, contact, gaps, mismatches, findings without causes. 'findings': with causes re-run. 'full': and capacity, grid error, path bound. */
  readonly detail?: FitDetail;
  /** A nearby pose of an earlier fit, to start from while dragging. */
  readonly start?: Pose;
  /** Where flexible bars stood at that pose; nothing to rigid ones. */
  readonly startFlex?: FlexState;
  /** The tree as it was settled before on the very same inputs: it is not settled again. */
  readonly seated?: SeatedTree;
  /** The same fit's laid-on pose; height, roll and pitch are taken from it, the held unknowns from the seated tree. */
  readonly startLaidOn?: Pose;
}

/** A fit with the arrays behind its figures. */
export interface Fit {
  readonly result: FitResult;
  readonly seated: SeatedTree;
  readonly laidOn: SeatedTree;
}

/** The main job: a tree, a back and a load in; gap map, contact, pressure and findings out. Horse frame, mm, N, kPa. */
export function fitTree(tree: Tree, back: BackSurface, setup: Setup, options: FitOptions = {}): Fit {
  const detail = options.detail ?? 'full';
  const seated = options.seated ?? seatTree(tree, back, setup, startOf(options));
  const laidOn = seatTree(tree, back, setup, {
    laidOn: true,
    samples: seated.samples,
    ...(options.startLaidOn === undefined ? {} : { start: heldAs(options.startLaidOn, seated.seat.pose) }),
  });
  const findings = findAll(seated, laidOn, { causes: detail !== 'figures' });
  const result = summariseFit(seated, laidOn, {
    findings,
    capacity: detail === 'full' ? bearingCapacity(seated) : null,
    gridErrorPercent: detail === 'full' ? gridErrorPercent(seated) : null,
    measureBound: detail === 'full',
  });
  return { result, seated, laidOn };
}

const startOf = ({ start, startFlex }: FitOptions): SeatTreeOptions =>
  start === undefined ? {} : startFlex === undefined ? { start } : { start, startFlex };

const heldAs = (near: Pose, { xMm, yMm, yawRad }: Pose): Pose => ({ ...near, xMm, yMm, yawRad });

/** Largest relative change of area, mean and p95 when the grid has half the rows and columns, percent. */
function gridErrorPercent(seated: SeatedTree): number {
  const { tree, back, setup } = seated;
  const { left, right } = shimTree(tree, setup);
  const coarse = sampleBars(left, right, { samples: Math.max(200, setup.samples / 4) });
  const other = contactFigures(seatTree(tree, back, setup, { samples: coarse, start: seated.seat.pose }));
  const own = contactFigures(seated);
  const change = (a: number, b: number): number => (b === 0 ? 0 : Math.abs(a / b - 1) * 100);
  return Math.max(
    change(other.areaCm2, own.areaCm2),
    change(other.meanPressureKPa, own.meanPressureKPa),
    change(other.p95PressureKPa, own.p95PressureKPa),
  );
}
