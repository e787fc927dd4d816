import { symmetricEigenvalues } from '../numeric/index.ts';
import {
  barToHorse,
  type Capacity,
  contactFigures,
  gapFigures,
  LEVER_MM,
  measureMismatch,
  type SeatedTree,
  spineClearance,
  tipFigures,
} from '../seating/index.ts';
import type { Finding, FitResult } from './fit-result.ts';

const DEGREES = 180 / Math.PI;

export interface FitExtras {
  readonly findings: readonly Finding[];
  readonly capacity: Capacity | null;
  readonly gridErrorPercent: number | null;
  /** Measures the fast path's bound when it is not known yet: some tenths of a second. */
  readonly measureBound: boolean;
}

/** Puts a seating into the published form. `laidOn` is the same tree laid on, for the mismatches. */
export function summariseFit(seated: SeatedTree, laidOn: SeatedTree, extras: FitExtras): FitResult {
  const { seat, back, setup } = seated;
  const fast = extras.measureBound && setup.path === 'fast' ? back.fastAccuracy : null;
  const boundMm = setup.path === 'exact' ? 0 : (fast?.boundMm ?? Number.NaN);
  return {
    status: seated.status,
    pose: {
      heightMm: seat.pose.zMm,
      pitchDeg: seat.pose.pitchRad * DEGREES,
      rollDeg: seat.pose.rollRad * DEGREES,
      shiftMm: seat.pose.yMm,
      yawDeg: seat.pose.yawRad * DEGREES,
      barToHorse: barToHorse(seat.pose),
    },
    ...balance(seated),
    contact: contactFigures(seated),
    gap: gapFigures(seated),
    mismatch: measureMismatch(laidOn),
    spine: spineClearance(seated),
    tips: tipFigures(seated),
    findings: extras.findings,
    capacity: extras.capacity,
    coverage: coverage(seated),
    accuracy: {
      path: setup.path,
      boundMm,
      boundKPa: boundMm * seated.stack.stiffness * 1000,
      gridErrorPercent: extras.gridErrorPercent,
      smoothingMm: fast?.smoothingMm ?? 0,
      fast,
    },
    stability: {
      lowestEigenvalue: symmetricEigenvalues(seat.equilibrium.hessian, 6)[0]!,
      unit: 'N/mm',
      leverMm: LEVER_MM,
    },
    frame: { fileToHorse: back.fileToHorse },
  };
}

/**
 * Contact forces and moments about the load's point, summed from the cells. Held freedoms show as reactions: what
 * friction, girth or breast gear would have to supply.
 */
function balance({ samples, seat, loads, loadN }: SeatedTree): Pick<FitResult, 'load' | 'reactions'> {
  const m = barToHorse(seat.pose);
  const [bx, by, bz] = loads[0]!.pointMm;
  const at: [number, number, number] = [
    m[0]! * bx + m[1]! * by + m[2]! * bz + m[3]!,
    m[4]! * bx + m[5]! * by + m[6]! * bz + m[7]!,
    m[8]! * bx + m[9]! * by + m[10]! * bz + m[11]!,
  ];
  const f = [0, 0, 0];
  const t = [0, 0, 0];
  for (let i = 0; i < samples.count; i++) {
    const n = seat.pressureMPa[i]! * samples.areaMm2[i]!;
    if (!(n > 0)) continue;
    const fx = n * seat.rows.normal[3 * i]!;
    const fy = n * seat.rows.normal[3 * i + 1]!;
    const fz = n * seat.rows.normal[3 * i + 2]!;
    const rx = seat.placedMm[3 * i]! - at[0];
    const ry = seat.placedMm[3 * i + 1]! - at[1];
    const rz = seat.placedMm[3 * i + 2]! - at[2];
    f[0]! += fx;
    f[1]! += fy;
    f[2]! += fz;
    t[0]! += ry * fz - rz * fy;
    t[1]! += rz * fx - rx * fz;
    t[2]! += rx * fy - ry * fx;
  }
  return heldParts(f, t, at, seat.pose, loadN);
}

/**
 * The solver balances moments about the bar frame's origin with forward place and shift held there, so the held forces
 * act through that origin; what is left over after them is the residual.
 */
function heldParts(
  f: readonly number[],
  t: readonly number[],
  at: readonly [number, number, number],
  pose: SeatedTree['seat']['pose'],
  loadN: number,
): Pick<FitResult, 'load' | 'reactions'> {
  const rx = pose.xMm - at[0];
  const ry = pose.yMm - at[1];
  const rz = pose.zMm - at[2];
  const hx = -f[0]!;
  const hy = -f[1]!;
  const left = [t[0]! - rz * hy, t[1]! + rz * hx, t[2]! + rx * hy - ry * hx];
  return {
    load: {
      appliedN: loadN,
      supportedN: f[2]!,
      residualN: Math.abs(f[2]! - loadN),
      residualMomentNmm: Math.hypot(left[0]!, left[1]!),
    },
    reactions: { xN: hx, yN: hy, aboutZNmm: -left[2]!, atMm: [pose.xMm, pose.yMm, pose.zMm] },
  };
}

function coverage({ samples, seat }: SeatedTree): FitResult['coverage'] {
  let all = 0;
  let excluded = 0;
  for (let i = 0; i < samples.count; i++) {
    all += samples.areaMm2[i]!;
    if (seat.mask[i] === 0) excluded += samples.areaMm2[i]!;
  }
  return { excludedFraction: all > 0 ? excluded / all : 0, excludedCm2: excluded / 100 };
}
