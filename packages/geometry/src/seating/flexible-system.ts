import { addCellForces, addCellStiffness, type FlexBar } from '../flex/index.ts';
import { type BandMatrix, createBand, downhillStep, factorBand, rotationOf, solveBand } from '../numeric/index.ts';
import type { Equilibrium } from './contact-energy.ts';
import { dot, type FlexibleLook, type FlexibleTask } from './flexible-look.ts';
import { LEVER_MM, rotationAxes } from './pose.ts';

/** One bar's share of the linear system at a look: [own, columns; columns^T, pose] in its unknowns u. */
export interface BarSystem {
  /** Factored: structure, ties and pressed cells. */
  readonly own: BandMatrix;
  /** One column per free unknown of the pose. */
  readonly columns: readonly Float64Array[];
  /** The bar's answer to each column: own^-1 column. */
  readonly answers: readonly Float64Array[];
}

export interface FlexibleStep {
  /** In the order of the free unknowns. */
  readonly pose: number[];
  readonly u: readonly Float64Array[];
}

/** Room for the cells' terms of one look and for the bars' factors, used again and again. */
export interface SystemScratch {
  readonly vector: Float64Array;
  readonly stiffness: Float64Array;
  readonly column: Float64Array;
  readonly factors: readonly BandMatrix[];
}

export const createSystemScratch = ({ body, bars }: FlexibleTask): SystemScratch => ({
  vector: new Float64Array(3 * body.count),
  stiffness: new Float64Array(6 * body.count),
  column: new Float64Array(3 * body.count),
  factors: bars.map(({ stiffness }) => createBand(stiffness.n, stiffness.halfWidth)),
});

/**
 * The exact second derivatives of the contact energy where the bar gives: with p = c + R (r + S u),
 * uu: k n n^T - F H_d, uq: k s n - F (H_d J + n x w), carried into the bar's own frame. null where it has no firm bottom
 * even without the back's own curvature.
 */
export function barSystem(
  bar: FlexBar,
  side: number,
  from: number,
  { push, placed, rows, pose }: FlexibleLook,
  free: readonly number[],
  scratch: SystemScratch,
): BarSystem | null {
  const r = Float64Array.from(rotationOf(pose));
  const n = bar.grid.rows * bar.grid.columns;
  const { forceN, stiffness } = push;
  const { normal, hessian } = rows;
  const own = scratch.factors[side]!;
  for (const bends of [1, 0]) {
    cellStiffness(forceN, stiffness, normal, hessian, r, bar.mirror, from, n, bends, scratch.stiffness);
    own.data.set(bar.stiffness.data);
    addCellStiffness(bar.grid, scratch.stiffness, 6 * from, own);
    if (!factorBand(own)) continue;
    const axes = Float64Array.from(rotationAxes(pose).flat());
    const origin = Float64Array.of(pose.xMm, pose.yMm, pose.zMm);
    const columns = free.map((freedom) => {
      const cells = scratch.column;
      cellColumn(forceN, stiffness, placed, normal, hessian, r, bar.mirror, axes, origin, freedom, from, n, cells);
      const column = new Float64Array(own.n);
      addCellForces(bar.grid, cells, 3 * from, column);
      return column;
    });
    return { own, columns, answers: columns.map((column) => solved(own, column)) };
  }
  return null;
}

function solved(factors: BandMatrix, of: Float64Array): Float64Array {
  const x = Float64Array.from(of);
  solveBand(factors, x);
  return x;
}

/** Loops over cells take arrays and numbers only; see sum-cells.ts for why. */
function cellStiffness(
  force: Float64Array,
  stiffness: Float64Array,
  normal: Float64Array,
  hessian: Float64Array,
  r: Float64Array,
  mirror: number,
  from: number,
  count: number,
  bends: number,
  out: Float64Array,
): void {
  for (let i = from; i < from + count; i++) {
    const o = 6 * i;
    const k = stiffness[i]!;
    if (k === 0) {
      out.fill(0, o, o + 6);
      continue;
    }
    const f = bends * force[i]!;
    const j = 3 * i;
    const [nx, ny, nz] = [normal[j]!, normal[j + 1]!, normal[j + 2]!];
    const xx = k * nx * nx - f * hessian[o]!;
    const xy = k * nx * ny - f * hessian[o + 1]!;
    const xz = k * nx * nz - f * hessian[o + 2]!;
    const yy = k * ny * ny - f * hessian[o + 3]!;
    const yz = k * ny * nz - f * hessian[o + 4]!;
    const zz = k * nz * nz - f * hessian[o + 5]!;
    // R^T M R, then the mirror.
    for (let a = 0; a < 3; a++) {
      const [ax, ay, az] = [r[a]!, r[3 + a]!, r[6 + a]!];
      const [vx, vy, vz] = [xx * ax + xy * ay + xz * az, xy * ax + yy * ay + yz * az, xz * ax + yz * ay + zz * az];
      for (let b = a; b < 3; b++) {
        const value = vx * r[b]! + vy * r[3 + b]! + vz * r[6 + b]!;
        out[o + (a === 0 ? b : a + b + 1)] = (a === 1) !== (b === 1) ? mirror * value : value;
      }
    }
  }
}

function cellColumn(
  force: Float64Array,
  stiffness: Float64Array,
  placed: Float64Array,
  normal: Float64Array,
  hessian: Float64Array,
  r: Float64Array,
  mirror: number,
  axes: Float64Array,
  origin: Float64Array,
  freedom: number,
  from: number,
  count: number,
  out: Float64Array,
): void {
  const turns = freedom >= 3;
  const w = turns ? 3 * (freedom - 3) : 0;
  const [wx, wy, wz] = [axes[w]! / LEVER_MM, axes[w + 1]! / LEVER_MM, axes[w + 2]! / LEVER_MM];
  for (let i = from; i < from + count; i++) {
    const j = 3 * i;
    const k = stiffness[i]!;
    if (k === 0) {
      out.fill(0, j, j + 3);
      continue;
    }
    const f = force[i]!;
    const [nx, ny, nz] = [normal[j]!, normal[j + 1]!, normal[j + 2]!];
    let [jx, jy, jz] = [freedom === 0 ? 1 : 0, freedom === 1 ? 1 : 0, freedom === 2 ? 1 : 0];
    let [cx, cy, cz] = [0, 0, 0];
    if (turns) {
      const [px, py, pz] = [placed[j]! - origin[0]!, placed[j + 1]! - origin[1]!, placed[j + 2]! - origin[2]!];
      [jx, jy, jz] = [wy * pz - wz * py, wz * px - wx * pz, wx * py - wy * px];
      [cx, cy, cz] = [ny * wz - nz * wy, nz * wx - nx * wz, nx * wy - ny * wx];
    }
    const ks = k * (nx * jx + ny * jy + nz * jz);
    const h = 6 * i;
    const vx = ks * nx - f * (hessian[h]! * jx + hessian[h + 1]! * jy + hessian[h + 2]! * jz + cx);
    const vy = ks * ny - f * (hessian[h + 1]! * jx + hessian[h + 3]! * jy + hessian[h + 4]! * jz + cy);
    const vz = ks * nz - f * (hessian[h + 2]! * jx + hessian[h + 4]! * jy + hessian[h + 5]! * jz + cz);
    out[j] = r[0]! * vx + r[3]! * vy + r[6]! * vz;
    out[j + 1] = mirror * (r[1]! * vx + r[4]! * vy + r[7]! * vz);
    out[j + 2] = r[2]! * vx + r[5]! * vy + r[8]! * vz;
  }
}

/** Pose's stiffness with the bars giving way under it: the Schur complement of the bars, n x n row-major. */
function condense(bars: readonly BarSystem[], poseStiffness: ArrayLike<number>, n: number): number[] {
  const stiffness = Array.from(poseStiffness);
  for (const { columns, answers } of bars) {
    for (let a = 0; a < n; a++) for (let b = 0; b < n; b++) stiffness[a * n + b]! -= dot(columns[a]!, answers[b]!);
  }
  return stiffness;
}

/** Newton step of pose and bars together, downhill in the pose. */
export function flexibleStep(
  bars: readonly BarSystem[],
  gradients: readonly Float64Array[],
  poseStiffness: readonly number[],
  poseForce: readonly number[],
  eigenvalueFloor: number,
): FlexibleStep {
  const n = poseForce.length;
  const own = bars.map((bar, side) => solved(bar.own, gradients[side]!));
  const force = poseForce.map((f, a) => bars.reduce((left, bar, side) => left - dot(bar.columns[a]!, own[side]!), f));
  const pose = downhillStep(condense(bars, poseStiffness, n), force, n, eigenvalueFloor);
  const u = bars.map(({ answers }, side) => {
    const step = own[side]!.map((value) => -value);
    answers.forEach((answer, a) => {
      for (let i = 0; i < step.length; i++) step[i]! -= answer[i]! * pose[a]!;
    });
    return step;
  });
  return { pose, u };
}

/** The pose's 6 x 6 stiffness with the bars giving way under it; `bars` with all six columns. */
export const hessianWithGive = (bars: readonly BarSystem[], e: Equilibrium): Float64Array =>
  Float64Array.from(condense(bars, e.hessian, 6));
