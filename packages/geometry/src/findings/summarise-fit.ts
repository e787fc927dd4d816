import { symmetricEigenvalues, transformPoint } from '../numeric/index.ts';
import {
  barToHorse,
  type Capacity,
  contactFigures,
  flexFigures,
  gapFigures,
  LEVER_MM,
  materialsUsed,
  measureMismatch,
  pressCells,
  type SeatedTree,
  solidsInUse,
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
    flex: flexFigures(seated),
    materials: materialsUsed(setup, solidsInUse(seated.tree, setup)),
    findings: extras.findings,
    capacity: extras.capacity,
    coverage: coverage(seated),
    accuracy: {
      path: setup.path,
      boundMm,
      boundKPa: boundMm * steepest(seated) * 1000,
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
 * Contact forces and moments about the weight's point, summed from the cells, and the loads beside them. Held freedoms
 * show as reactions: what friction, girth or breast gear would have to supply.
 */
function balance({ samples, seat, loads, loadN }: SeatedTree): Pick<FitResult, 'load' | 'reactions'> {
  const m = barToHorse(seat.pose);
  const at = transformPoint(m, ...loads[0]!.pointMm);
  const contact = wrench();
  for (let i = 0; i < samples.count; i++) {
    const n = seat.pressureMPa[i]! * samples.areaMm2[i]!;
    if (!(n > 0)) continue;
    const { normal } = seat.rows;
    addForce(
      contact,
      [n * normal[3 * i]!, n * normal[3 * i + 1]!, n * normal[3 * i + 2]!],
      [seat.placedMm[3 * i]! - at[0], seat.placedMm[3 * i + 1]! - at[1], seat.placedMm[3 * i + 2]! - at[2]],
    );
  }
  const all = { f: [...contact.f], t: [...contact.t] };
  for (const { pointMm, forceN } of loads) {
    const p = transformPoint(m, ...pointMm);
    addForce(all, forceN, [p[0] - at[0], p[1] - at[1], p[2] - at[2]]);
  }
  return {
    load: { ...left(all, at, seat.pose), appliedN: loadN, supportedN: contact.f[2]! },
    reactions: held(all, at, seat.pose),
  };
}

/** The stiffest that the layers get under any cell, MPa/mm: what a wrong distance does to the pressure at most. */
function steepest({ stack, seat }: SeatedTree): number {
  if (stack.law.linear !== null) return stack.law.linear;
  let most = stack.stiffness;
  for (const k of pressCells(stack, seat.rows.distanceMm, seat.mask).tangent) if (k > most) most = k;
  return most;
}

interface Wrench {
  readonly f: number[];
  readonly t: number[];
}

const wrench = (): Wrench => ({ f: [0, 0, 0], t: [0, 0, 0] });

/** Adds a force and its moment, r from the point that moments are taken about. */
function addForce(
  { f, t }: Wrench,
  [fx, fy, fz]: readonly [number, number, number],
  [rx, ry, rz]: readonly [number, number, number],
): void {
  f[0]! += fx;
  f[1]! += fy;
  f[2]! += fz;
  t[0]! += ry * fz - rz * fy;
  t[1]! += rz * fx - rx * fz;
  t[2]! += rx * fy - ry * fx;
}

type At = readonly [number, number, number];

/**
 * The solver balances moments about the bar frame's origin with forward place and shift held there, so the held forces
 * act through that origin; what is left over after them is the residual.
 */
function aboutOrigin({ f, t }: Wrench, at: At, { xMm, yMm, zMm }: SeatedTree['seat']['pose']): readonly number[] {
  const [rx, ry, rz] = [xMm - at[0], yMm - at[1], zMm - at[2]];
  const [hx, hy] = [-f[0]!, -f[1]!];
  return [t[0]! - rz * hy, t[1]! + rz * hx, t[2]! + rx * hy - ry * hx];
}

function left(all: Wrench, at: At, pose: SeatedTree['seat']['pose']): { residualN: number; residualMomentNmm: number } {
  const [aboutX, aboutY] = aboutOrigin(all, at, pose);
  return { residualN: Math.abs(all.f[2]!), residualMomentNmm: Math.hypot(aboutX!, aboutY!) };
}

function held(all: Wrench, at: At, pose: SeatedTree['seat']['pose']): FitResult['reactions'] {
  const aboutZ = aboutOrigin(all, at, pose)[2]!;
  return { xN: -all.f[0]!, yN: -all.f[1]!, aboutZNmm: -aboutZ, atMm: [pose.xMm, pose.yMm, pose.zMm] };
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
