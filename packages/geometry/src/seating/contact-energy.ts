import type { LayerStack } from '../layers/index.ts';
import { rotationOf } from '../numeric/index.ts';
import type { DistanceField, FootRows, Side } from '../spatial/distance-field.ts';
import { LEVER_MM, type Pose, rotationAxes } from './pose.ts';

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
  const [r0, r1, r2, r3, r4, r5, r6, r7, r8] = rotationOf(pose) as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  for (let i = 0; i < points.length; i += 3) {
    const x = points[i]!;
    const y = points[i + 1]!;
    const z = points[i + 2]!;
    out[i] = r0 * x + r1 * y + r2 * z + pose.xMm;
    out[i + 1] = r3 * x + r4 * y + r5 * z + pose.yMm;
    out[i + 2] = r6 * x + r7 * y + r8 * z + pose.zMm;
  }
}

/** Distances of all placed points, each bar on its own side. */
export function queryFeet(
  field: DistanceField,
  body: ContactBody,
  placed: Float64Array,
  rows: FootRows,
  wantHessian: boolean,
): void {
  for (const bar of body.bars) field.evaluate(placed, bar.from, bar.to, bar.side, rows, wantHessian);
}

/**
 * Adds up E = sum A psi(c) - sum F . p over the cells whose mask is 1, psi = k c^2 / 2 for squeeze c = thickness - d > 0.
 * Gradient and Hessian are exact for the pose's Euler angles: dd/dq = n . J, d2d/dq2 = J^T H_d J + n . d2p/dq2, with
 * d2p/dq_a dq_b = w_a x (w_b x Rr), a the outer rotation.
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
): Equilibrium {
  out.energy = 0;
  out.gradient.fill(0);
  out.hessian.fill(0);
  out.pressedCells = 0;
  const axes = rotationAxes(pose);
  const term = createTerm(axes);
  const k = stack.stiffness;
  const t0 = stack.thicknessMm;
  for (let i = 0; i < body.count; i++) {
    if (mask[i] === 0) continue;
    const c = t0 - rows.distanceMm[i]!;
    if (!(c > 0)) continue;
    const area = body.areaMm2[i]!;
    out.pressedCells++;
    out.energy += 0.5 * area * k * c * c;
    const p = area * k * c;
    const j = 3 * i;
    term.nx = rows.normal[j]!;
    term.ny = rows.normal[j + 1]!;
    term.nz = rows.normal[j + 2]!;
    addTerm(
      term,
      placed[j]! - pose.xMm,
      placed[j + 1]! - pose.yMm,
      placed[j + 2]! - pose.zMm,
      p,
      area * k,
      rows.hessian,
      6 * i,
      out,
    );
  }
  for (const load of loads) addLoad(load, pose, axes, out);
  for (let a = 0; a < 6; a++) for (let b = 0; b < a; b++) out.hessian[a * 6 + b] = out.hessian[b * 6 + a]!;
  return out;
}

type Axes = readonly (readonly [number, number, number])[];

interface Term {
  nx: number;
  ny: number;
  nz: number;
  readonly axes: Axes;
  /** n . J for the six unknowns. */
  readonly nj: Float64Array;
  /** J, 6 x 3. */
  readonly jac: Float64Array;
  /** H_d J, 6 x 3. */
  readonly hj: Float64Array;
}

function createTerm(axes: Axes): Term {
  const jac = new Float64Array(18);
  jac[0] = 1;
  jac[4] = 1;
  jac[8] = 1;
  return { nx: 0, ny: 0, nz: 0, axes, nj: new Float64Array(6), jac, hj: new Float64Array(18) };
}

function addTerm(
  term: Term,
  rx: number,
  ry: number,
  rz: number,
  force: number,
  stiffness: number,
  hd: Float64Array,
  at: number,
  out: Equilibrium,
): void {
  const { nx, ny, nz, axes, nj, jac, hj } = term;
  for (let a = 0; a < 3; a++) {
    const w = axes[a]!;
    const o = 9 + 3 * a;
    jac[o] = (w[1] * rz - w[2] * ry) / LEVER_MM;
    jac[o + 1] = (w[2] * rx - w[0] * rz) / LEVER_MM;
    jac[o + 2] = (w[0] * ry - w[1] * rx) / LEVER_MM;
  }
  const hxx = hd[at]!;
  const hxy = hd[at + 1]!;
  const hxz = hd[at + 2]!;
  const hyy = hd[at + 3]!;
  const hyz = hd[at + 4]!;
  const hzz = hd[at + 5]!;
  for (let a = 0; a < 6; a++) {
    const o = 3 * a;
    const jx = jac[o]!;
    const jy = jac[o + 1]!;
    const jz = jac[o + 2]!;
    nj[a] = nx * jx + ny * jy + nz * jz;
    hj[o] = hxx * jx + hxy * jy + hxz * jz;
    hj[o + 1] = hxy * jx + hyy * jy + hyz * jz;
    hj[o + 2] = hxz * jx + hyz * jy + hzz * jz;
    out.gradient[a]! -= force * nj[a]!;
  }
  for (let a = 0; a < 6; a++) {
    const o = 3 * a;
    for (let b = a; b < 6; b++) {
      const curved = jac[3 * b]! * hj[o]! + jac[3 * b + 1]! * hj[o + 1]! + jac[3 * b + 2]! * hj[o + 2]!;
      out.hessian[a * 6 + b]! += stiffness * nj[a]! * nj[b]! - force * curved;
    }
  }
  addSecondMotion(axes, jac, nx, ny, nz, -force, out.hessian);
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
