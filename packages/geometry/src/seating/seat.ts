import type { LayerStack } from '../layers/index.ts';
import { downhillStep } from '../numeric/index.ts';
import { createFootRows, type DistanceField, type FootHints, type FootRows } from '../spatial/distance-field.ts';
import { type Approach, approachPose } from './approach-pose.ts';
import {
  assembleEquilibrium,
  type ContactBody,
  createEquilibrium,
  type Equilibrium,
  type Load,
  placePoints,
  queryFeet,
} from './contact-energy.ts';
import { levelForces } from './frozen-model.ts';
import { type Freedom, movePose, type Pose } from './pose.ts';
import { pressCells } from './press-cells.ts';
import { bridgeLostCells, freedomsOf, sizeOfLoads, unbalanceN } from './unbalance.ts';

/** How a seating ended. Anything but 'settled' still carries the last numbers, for looking, not for trusting. */
export type SeatStatus = 'settled' | 'no contact' | 'off the data' | 'iteration limit';

export interface SeatOptions {
  readonly free?: readonly Freedom[];
  /** Residual, as a share of the load (moments over 100 mm), at which the tree counts as settled. */
  readonly tolerance?: number;
  readonly mostSteps?: number;
}

/** A settled body: pose, the cells' distances, who pressed, and how well it balances. */
export interface Seat {
  readonly status: SeatStatus;
  readonly pose: Pose;
  /** 3n, horse frame. */
  readonly placedMm: Float64Array;
  readonly rows: FootRows;
  /** 1 where the cell has data and counts. */
  readonly mask: Uint8Array;
  readonly pressureMPa: Float64Array;
  readonly equilibrium: Equilibrium;
  readonly steps: number;
  /** Unbalanced force on the free unknowns / load. */
  readonly relativeResidual: number;
}

/** DESIGN 4: 1e-6 of the load on smooth surfaces, 1e-4 on raw facets. */
export const SMOOTH_TOLERANCE = 1e-6;
export const FACET_TOLERANCE = 1e-4;
/** A step moves no point further than about this, mm. */
const TRUST_MM = 8;
const MOST_MASK_PASSES = 8;
const MOST_STEPS = 80;
/** Freedoms softer than this area's worth of layer are treated as this soft, so that a step stays finite. mm2 */
const EIGENVALUE_FLOOR_MM2 = 0.01;

/**
 * Minimises the energy of layers and loads over the free unknowns: Newton with the exact Hessian made downhill, a step
 * bound, and halving until the energy falls. The data mask is frozen within an outer pass and renewed between passes.
 * Energy in the free unknowns only; the others stay at `start`.
 */
export function seatBody(
  body: ContactBody,
  field: DistanceField,
  stack: LayerStack,
  loads: readonly Load[],
  start: Pose,
  options: SeatOptions = {},
): Seat {
  return new Solver(body, field, stack, loads, options).run(start);
}

/** The same by the quick way alone (approach-pose.ts); null where that does not serve or does not end settled. */
export function seatBodyQuickly(
  body: ContactBody,
  field: DistanceField,
  stack: LayerStack,
  loads: readonly Load[],
  start: Pose,
): Seat | null {
  return new Solver(body, field, stack, loads, {}).runQuickly(start);
}

class Solver {
  private readonly free: readonly number[];
  private readonly tolerance: number;
  private readonly loadN: number;
  private readonly placed: Float64Array;
  private readonly trialPlaced: Float64Array;
  private rows: FootRows;
  /** Made when the first trial step needs them. */
  private trialRows: FootRows | null = null;
  private readonly hints: FootHints;
  private readonly mask: Uint8Array;
  private current = createEquilibrium();
  private trial = createEquilibrium();
  private steps = 0;

  constructor(
    private readonly body: ContactBody,
    private readonly field: DistanceField,
    private readonly stack: LayerStack,
    private readonly loads: readonly Load[],
    private readonly options: SeatOptions,
  ) {
    this.free = freedomsOf(options);
    this.tolerance = options.tolerance ?? (field.smooth ? SMOOTH_TOLERANCE : FACET_TOLERANCE);
    this.loadN = sizeOfLoads(loads);
    this.placed = new Float64Array(body.pointsMm.length);
    this.trialPlaced = new Float64Array(body.pointsMm.length);
    this.rows = createFootRows(body.count);
    this.hints = { hessianBelowMm: stack.thicknessMm };
    this.mask = new Uint8Array(body.count);
  }

  run(start: Pose): Seat {
    return this.finish(start, this.approach(start));
  }

  runQuickly(start: Pose): Seat | null {
    const near = this.approach(start);
    const seat = near === null ? null : this.finish(near.pose, near);
    return seat?.status === 'settled' ? seat : null;
  }

  private finish(start: Pose, near: Approach | null): Seat {
    let pose = near?.pose ?? start;
    let settled = false;
    if (near?.rowsAtPose !== true) this.look(pose, near !== null);
    for (let pass = 0; pass < MOST_MASK_PASSES; pass++) {
      const changed = this.renewMask();
      if (pass > 0 && !changed && settled) break;
      this.assemble(pose, this.placed, this.rows, this.current);
      if (!this.isBalanced(pose)) pose = this.balance(this.newton(pose));
      settled = this.residual(this.current, pose) < this.tolerance;
    }
    this.assemble(pose, this.placed, this.rows, this.current);
    return this.report(pose, settled);
  }

  /** The quick way to near the end; null where it does not serve, or steps are counted. */
  private approach(start: Pose): Approach | null {
    if (this.options.mostSteps !== undefined) return null;
    const { field, stack, loads, loadN, tolerance, free } = this;
    const task = { field, stack, loads, loadN, tolerance, free, shareOf: (forces: Float64Array) => this.share(forces) };
    return approachPose(task, this.body, start, this.rows, this.placed);
  }

  private look(pose: Pose, nearRows: boolean): void {
    placePoints(this.body.pointsMm, pose, this.placed);
    queryFeet(this.field, this.body, this.placed, this.rows, true, { ...this.hints, nearRows });
  }

  private renewMask(): boolean {
    const changed = differs(this.mask, this.rows.hasData);
    this.mask.set(this.rows.hasData);
    return changed;
  }

  private assemble(pose: Pose, placed: Float64Array, rows: FootRows, out: Equilibrium): void {
    assembleEquilibrium(this.body, placed, rows, this.mask, this.stack, this.loads, pose, out);
  }

  /**
   * A yaw held as an Euler angle is held by a couple square to the roll and pitch axes, which leans with the pitch. The
   * reaction reported is about z alone, so a few Newton steps move the pose to where the moments about x and y vanish.
   */
  private balance(start: Pose): Pose {
    let pose = start;
    for (let i = 0; i < 6; i++) {
      const before = this.residual(this.current, pose);
      if (this.isBalanced(pose) || this.current.pressedCells === 0) return pose;
      const step = this.newtonStep(levelForces(this.current, pose, this.free));
      const next = movePose(pose, this.spread(step, 1));
      this.lookTrial(next);
      if (!(this.residual(this.trial, next) < before)) return pose;
      this.accept();
      pose = next;
    }
    return pose;
  }

  private isBalanced(pose: Pose): boolean {
    return this.residual(this.current, pose) < 0.01 * this.tolerance;
  }

  private newton(start: Pose): Pose {
    let pose = start;
    for (let i = 0; i < (this.options.mostSteps ?? MOST_STEPS); i++) {
      if (this.share(this.current.gradient) < this.tolerance) return pose;
      this.steps++;
      const next = this.takeStep(pose);
      if (next === null) return pose;
      pose = next;
    }
    return pose;
  }

  /** Newton step in the free unknowns, downhill, for a gradient that may have been levelled. */
  private newtonStep(gradient: Float64Array): number[] {
    const g = this.free.map((i) => gradient[i]!);
    const h = this.free.flatMap((i) => this.free.map((j) => this.current.hessian[i * 6 + j]!));
    return downhillStep(h, g, this.free.length, EIGENVALUE_FLOOR_MM2 * this.stack.stiffness);
  }

  private spread(step: readonly number[], share: number): Float64Array {
    const full = new Float64Array(6);
    this.free.forEach((freedom, i) => {
      full[freedom] = share * step[i]!;
    });
    return full;
  }

  /** One safeguarded step; null where no shorter step lowers the energy (rounding, or a kink of raw facets). */
  private takeStep(pose: Pose): Pose | null {
    const gradient = this.current.gradient;
    const step = this.newtonStep(gradient);
    const downhill = step.reduce((sum, s, i) => sum + s * gradient[this.free[i]!]!, 0);
    const before = this.share(gradient);
    const bound = Math.min(1, TRUST_MM / Math.hypot(...step));
    for (let share = bound, halvings = 0; halvings < 30; halvings++, share /= 2) {
      const next = movePose(pose, this.spread(step, share));
      this.lookTrial(next);
      const gain = this.trial.energy - this.current.energy;
      const flat = Math.abs(gain) <= 1e-13 * (Math.abs(this.trial.energy) + this.loadN);
      if (gain <= 1e-4 * share * downhill || (flat && this.share(this.trial.gradient) < before)) {
        this.accept();
        return next;
      }
    }
    return null;
  }

  private lookTrial(pose: Pose): void {
    this.trialRows ??= createFootRows(this.body.count);
    placePoints(this.body.pointsMm, pose, this.trialPlaced);
    queryFeet(this.field, this.body, this.trialPlaced, this.trialRows, true, this.hints);
    bridgeLostCells(this.mask, this.rows, this.placed, this.trialRows, this.trialPlaced);
    this.assemble(pose, this.trialPlaced, this.trialRows, this.trial);
  }

  private accept(): void {
    [this.rows, this.trialRows] = [this.trialRows ?? this.rows, this.rows];
    [this.current, this.trial] = [this.trial, this.current];
    this.placed.set(this.trialPlaced);
  }

  private residual(e: Equilibrium, pose: Pose): number {
    return this.share(levelForces(e, pose, this.free));
  }

  /** Unbalanced force, and moment over the residual lever, as a share of the load. */
  private share(gradient: Float64Array): number {
    return unbalanceN(gradient, this.free) / this.loadN;
  }

  private report(pose: Pose, settled: boolean): Seat {
    const { mask, rows, stack } = this;
    const { linear } = stack.law;
    const pressureMPa =
      linear === null
        ? pressCells(stack, rows.distanceMm, mask).pressureMPa
        : pressures(mask, rows.distanceMm, stack.thicknessMm, linear);
    const status: SeatStatus = this.current.pressedCells === 0 ? 'no contact' : settled ? 'settled' : 'iteration limit';
    return {
      status,
      pose,
      placedMm: this.placed,
      rows: this.rows,
      mask: this.mask,
      pressureMPa,
      equilibrium: this.current,
      steps: this.steps,
      relativeResidual: this.residual(this.current, pose),
    };
  }
}

/** Loops over all cells take arrays and numbers only; see sum-cells.ts for why. */
function differs(a: Uint8Array, b: Uint8Array): boolean {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return true;
  return false;
}

function pressures(mask: Uint8Array, distanceMm: Float64Array, thicknessMm: number, stiffness: number): Float64Array {
  const pressureMPa = new Float64Array(mask.length);
  for (let i = 0; i < mask.length; i++) {
    if (mask[i] === 1) pressureMPa[i] = Math.max(0, stiffness * (thicknessMm - distanceMm[i]!));
  }
  return pressureMPa;
}
