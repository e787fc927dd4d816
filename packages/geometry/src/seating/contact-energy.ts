import type { LayerStack } from '../layers/index.ts';
import { rotationOf } from '../numeric/index.ts';
import type { DistanceField, FootHints, FootRows, Side } from '../spatial/distance-field.ts';
import { LEVER_MM, type Pose, rotationAxes } from './pose.ts';
import type { PressedCells } from './press-cells.ts';
import { type CellSums, sumCells } from './sum-cells.ts';

/** A rigid body of contact cells in the bar frame: what meets the back. Ranges name the side whose chart serves them. */
export interface ContactBody {
  readonly count: number;
  /** 3n */
  readonly pointsMm: Float64Array;
  readonly areaMm2: Float64Array;
  readonly bars: readonly { readonly side: Side; readonly from: number; readonly to: number }[];
}

/** A dead force fixed in place on the bars, direction fixed in the horse frame. */
export interface Load {
  /** Bar frame, mm. */
  readonly pointMm: readonly [number, number, number];
  /** Horse frame, N. */
  readonly forceN: readonly [number, number, number];
}

/** Energy, gradient and Hessian in the six scaled unknowns of pose.ts. N mm, N, N/mm. */
export interface Equilibrium {
  energy: number;
  readonly gradient: Float64Array;
  /** 6 x 6 row-major, symmetric. */
  readonly hessian: Float64Array;
  pressedCells: number;
}

export const createEquilibrium = (): Equilibrium => ({
  energy: 0,
  gradient: new Float64Array(6),
  hessian: new Float64Array(36),
  pressedCells: 0,
});

/** Carries the body's points to the horse frame. Writes `out` (3n); must not alias the input. */
export function placePoints(points: Float64Array, pose: Pose, out: Float64Array): void {
  carryPoints(points, Float64Array.from(rotationOf(pose)), pose.xMm, pose.yMm, pose.zMm, out);
}

function carryPoints(
  points: Float64Array,
  r: Float64Array,
  tx: number,
  ty: number,
  tz: number,
  out: Float64Array,
): void {
  const [r0, r1, r2] = [r[0]!, r[1]!, r[2]!];
  const [r3, r4, r5] = [r[3]!, r[4]!, r[5]!];
  const [r6, r7, r8] = [r[6]!, r[7]!, r[8]!];
  for (let i = 0; i < points.length; i += 3) {
    const x = points[i]!;
    const y = points[i + 1]!;
    const z = points[i + 2]!;
    out[i] = r0 * x + r1 * y + r2 * z + tx;
    out[i + 1] = r3 * x + r4 * y + r5 * z + ty;
    out[i + 2] = r6 * x + r7 * y + r8 * z + tz;
  }
}

/** Distances of all placed points, each bar on its own side. */
export function queryFeet(
  field: DistanceField,
  body: ContactBody,
  placed: Float64Array,
  rows: FootRows,
  wantHessian: boolean,
  hints?: FootHints,
): void {
  for (const bar of body.bars) field.evaluate(placed, bar.from, bar.to, bar.side, rows, wantHessian, hints);
}

/**
 * Adds up E = sum A psi(c) - sum F . p over the cells whose mask is 1, psi the layers' energy at squeeze c = thickness - d
 * > 0 (k c^2 / 2 for linear layers).
 * Gradient and Hessian are exact for the pose's Euler angles: dd/dq = n . J, d2d/dq2 = J^T H_d J + n . d2p/dq2, with
 * d2p/dq_a dq_b = w_a x (w_b x Rr), a the outer rotation.
 *
 * The cells are summed as motions along and turns about the horse's own axes, g = (n, r x n); the pose's leaning axes
 * come in once, at the end. `pressed`: see sumCells.
 */
export function assembleEquilibrium(
  body: ContactBody,
  placed: Float64Array,
  rows: FootRows,
  mask: Uint8Array,
  stack: LayerStack,
  loads: readonly Load[],
  pose: Pose,
  out: Equilibrium,
  pressed?: PressedCells,
): Equilibrium {
  out.gradient.fill(0);
  out.hessian.fill(0);
  const axes = rotationAxes(pose);
  const sums = sumCells(body, placed, rows, mask, stack, pose, pressed);
  out.energy = sums.energy;
  out.pressedCells = sums.pressedCells;
  turnToPoseAxes(sums, axes, out);
  for (const load of loads) addLoad(load, pose, axes, out);
  for (let a = 0; a < 6; a++) for (let b = 0; b < a; b++) out.hessian[a * 6 + b] = out.hessian[b * 6 + a]!;
  return out;
}

type Axes = readonly (readonly [number, number, number])[];

/** Gradient and upper Hessian in the pose's unknowns from sums about the horse's axes: q turns about the pose's axes. */
function turnToPoseAxes(sums: CellSums, axes: Axes, out: Equilibrium): void {
  const t = new Float64Array(36);
  for (let i = 0; i < 3; i++) {
    t[7 * i] = 1;
    for (let a = 0; a < 3; a++) t[(3 + i) * 6 + 3 + a] = axes[a]![i]! / LEVER_MM;
  }
  const st = new Float64Array(36);
  for (let i = 0; i < 6; i++) {
    for (let b = 0; b < 6; b++)
      for (let m = 0; m < 6; m++) st[i * 6 + b]! += sums.stiffness[i * 6 + m]! * t[m * 6 + b]!;
  }
  for (let a = 0; a < 6; a++) {
    for (let m = 0; m < 6; m++) out.gradient[a]! -= t[m * 6 + a]! * sums.wrench[m]!;
    for (let b = a; b < 6; b++) {
      for (let m = 0; m < 6; m++) out.hessian[a * 6 + b]! += t[m * 6 + a]! * st[m * 6 + b]!;
    }
  }
  addTurnOnTurn(sums.lever, axes, out.hessian);
}

/** Adds -sum F n . (w_outer x (w_inner x r)) = -(w_inner^T L w_outer - w_inner . w_outer tr L), L = sum F n r^T. */
function addTurnOnTurn(lever: Float64Array, axes: Axes, h: Float64Array): void {
  const trace = lever[0]! + lever[4]! + lever[8]!;
  for (let inner = 0; inner < 3; inner++) {
    for (let outer = inner; outer < 3; outer++) {
      let through = 0;
      let along = 0;
      for (let i = 0; i < 3; i++) {
        along += axes[inner]![i]! * axes[outer]![i]!;
        for (let j = 0; j < 3; j++) through += axes[inner]![i]! * lever[3 * i + j]! * axes[outer]![j]!;
      }
      h[(3 + inner) * 6 + 3 + outer]! -= (through - along * trace) / (LEVER_MM * LEVER_MM);
    }
  }
}

/** Adds s n . d2p/dq_a dq_b for the rotations; axes are ordered inner (roll) to outer (yaw). */
function addSecondMotion(
  axes: Axes,
  jac: Float64Array,
  nx: number,
  ny: number,
  nz: number,
  s: number,
  h: Float64Array,
): void {
  for (let inner = 0; inner < 3; inner++) {
    const jx = jac[9 + 3 * inner]!;
    const jy = jac[10 + 3 * inner]!;
    const jz = jac[11 + 3 * inner]!;
    for (let outer = inner; outer < 3; outer++) {
      const w = axes[outer]!;
      const second = nx * (w[1] * jz - w[2] * jy) + ny * (w[2] * jx - w[0] * jz) + nz * (w[0] * jy - w[1] * jx);
      h[(3 + inner) * 6 + 3 + outer]! += (s * second) / LEVER_MM;
    }
  }
}

function addLoad(load: Load, pose: Pose, axes: Axes, out: Equilibrium): void {
  const r = rotationOf(pose);
  const [px, py, pz] = load.pointMm;
  const [fx, fy, fz] = load.forceN;
  const rx = r[0]! * px + r[1]! * py + r[2]! * pz;
  const ry = r[3]! * px + r[4]! * py + r[5]! * pz;
  const rz = r[6]! * px + r[7]! * py + r[8]! * pz;
  out.energy -= fx * (rx + pose.xMm) + fy * (ry + pose.yMm) + fz * (rz + pose.zMm);
  const jac = new Float64Array(18);
  jac[0] = 1;
  jac[4] = 1;
  jac[8] = 1;
  for (let a = 0; a < 3; a++) {
    const w = axes[a]!;
    jac[9 + 3 * a] = (w[1] * rz - w[2] * ry) / LEVER_MM;
    jac[10 + 3 * a] = (w[2] * rx - w[0] * rz) / LEVER_MM;
    jac[11 + 3 * a] = (w[0] * ry - w[1] * rx) / LEVER_MM;
  }
  for (let a = 0; a < 6; a++) out.gradient[a]! -= fx * jac[3 * a]! + fy * jac[3 * a + 1]! + fz * jac[3 * a + 2]!;
  addSecondMotion(axes, jac, fx, fy, fz, -1, out.hessian);
}
