import type { FootRows } from '../spatial/distance-field.ts';
import type { Equilibrium } from './contact-energy.ts';
import {
  balanceLook,
  createLook,
  dot,
  type FlexibleLook,
  type FlexibleTask,
  type FlexState,
  lookAtBack,
} from './flexible-look.ts';
import {
  type BarSystem,
  barSystem,
  createSystemScratch,
  type FlexibleStep,
  flexibleStep,
  hessianWithGive,
  type SystemScratch,
} from './flexible-system.ts';
import { levelForces } from './frozen-model.ts';
import { movePose, type Pose } from './pose.ts';
import { FACET_TOLERANCE, type Seat, type SeatOptions, type SeatStatus, SMOOTH_TOLERANCE } from './seat.ts';
import { bridgeLostCells, freedomsOf, sizeOfLoads, unbalanceN } from './unbalance.ts';

/** A settled tree whose bars give. */
export interface FlexibleSeat extends Seat {
  readonly flex: FlexState;
  /** 3n: displacement of every cell in the bar frame, mm. */
  readonly movedMm: Float64Array;
  /** Energy stored in bars and ties, N mm. */
  readonly bentNmm: number;
  /** Energy after every accepted step, N mm: it falls until the last steps level the moments. */
  readonly energies: readonly number[];
}

const TRUST_MM = 8;
const MOST_MASK_PASSES = 8;
const MOST_STEPS = 40;
const MOST_LEVEL_STEPS = 12;
/** The moments are levelled to this part of the tolerance. */
const LEVEL_PART = 0.1;
/** Steps shorter than this start the next look from the last one's feet, mm. */
const NEAR_MM = 2;
const EIGENVALUE_FLOOR_MM2 = 0.01;
/** A step that took away so much of the unbalance may be followed by one with the same factors. */
const REUSE_BELOW = 0.1;

/**
 * Minimises the energy of layers, bars, ties and loads over the pose's free unknowns and both bars' displacements at
 * once: Newton with exact second derivatives, the bars eliminated by their own factors, the pose left as a small system.
 * The load balances as it does for rigid bars, because the pose moves bars and all.
 */
export function seatFlexible(
  task: FlexibleTask,
  start: { readonly pose: Pose; readonly flex?: FlexState },
  options: SeatOptions = {},
): FlexibleSeat {
  return new FlexibleSolver(task, options).run(start.pose, start.flex);
}

class FlexibleSolver {
  private readonly free: readonly number[];
  private readonly tolerance: number;
  private readonly loadN: number;
  private readonly mask: Uint8Array;
  private readonly scratch: SystemScratch;
  private look: FlexibleLook;
  private trial: FlexibleLook;
  /** Factors of an earlier look, near enough to step with. */
  private systems: readonly BarSystem[] | null = null;
  private steps = 0;
  private readonly energies: number[] = [];

  constructor(
    private readonly task: FlexibleTask,
    private readonly options: SeatOptions,
  ) {
    this.free = freedomsOf(options);
    this.tolerance = options.tolerance ?? (task.field.smooth ? SMOOTH_TOLERANCE : FACET_TOLERANCE);
    this.loadN = sizeOfLoads(task.loads);
    this.mask = new Uint8Array(task.body.count);
    this.scratch = scratchOf(task);
    this.look = createLook(task);
    this.trial = takeSpare(task);
  }

  run(pose: Pose, flex?: FlexState): FlexibleSeat {
    const { look } = this;
    look.pose = pose;
    for (const side of flex === undefined ? [] : ([0, 1] as const)) look.u[side].set(flex![side]);
    lookAtBack(this.task, look, false);
    let settled = false;
    for (let pass = 0; pass < MOST_MASK_PASSES; pass++) {
      const changed = this.renewMask();
      if (pass > 0 && !changed && settled) break;
      balanceLook(this.task, this.look, this.mask, this.scratch.vector);
      this.systems = null;
      this.descend();
      this.level();
      settled = this.residual(this.look) < this.tolerance;
    }
    return this.report(settled);
  }

  private renewMask(): boolean {
    const { hasData } = this.look.rows;
    const changed = this.mask.some((value, i) => value !== hasData[i]);
    this.mask.set(hasData);
    return changed;
  }

  /** Down the energy until the unbalanced share is below the tolerance or no step lowers it. */
  private descend(): void {
    this.energies.push(this.look.energy);
    for (let i = 0; i < (this.options.mostSteps ?? MOST_STEPS); i++) {
      const before = this.share(this.look, this.look.equilibrium.gradient);
      if (before < this.tolerance) return;
      this.steps++;
      const reused = this.systems !== null;
      if (!this.takeStep(before)) {
        if (!reused) return;
        this.systems = null;
        continue;
      }
      this.energies.push(this.look.energy);
      if (this.share(this.look, this.look.equilibrium.gradient) > REUSE_BELOW * before) this.systems = null;
    }
  }

  /** Last steps, to where the moments about the level axes vanish (see levelForces). */
  private level(): void {
    for (let i = 0; i < MOST_LEVEL_STEPS; i++) {
      const { look } = this;
      const before = this.residual(look);
      if (before < LEVEL_PART * this.tolerance || look.equilibrium.pressedCells === 0) return;
      const reused = this.systems !== null;
      const step = this.stepFrom(levelForces(look.equilibrium, look.pose, this.free));
      if (step === null) return;
      this.tryStep(step, 1);
      if (this.residual(this.trial) < (reused ? 0.5 : 1) * before) this.accept();
      else if (reused) this.systems = null;
      else return;
    }
  }

  private takeStep(before: number): boolean {
    const { look } = this;
    const { gradient } = look.equilibrium;
    const step = this.stepFrom(gradient);
    if (step === null) return false;
    const downhill =
      step.pose.reduce((sum, s, i) => sum + s * gradient[this.free[i]!]!, 0) +
      step.u.reduce((sum, du, side) => sum + dot(du, look.gradients[side]!), 0);
    const furthest = Math.max(Math.hypot(...step.pose), ...step.u.map(largest));
    for (let share = Math.min(1, TRUST_MM / furthest), halvings = 0; halvings < 30; halvings++, share /= 2) {
      this.tryStep(step, share);
      const gain = this.trial.energy - look.energy;
      const flat = Math.abs(gain) <= 1e-13 * (Math.abs(this.trial.energy) + this.loadN);
      const after = (): number => this.share(this.trial, this.trial.equilibrium.gradient);
      if (gain <= 1e-4 * share * downhill || (flat && after() < before)) {
        this.accept();
        return true;
      }
    }
    return false;
  }

  private stepFrom(poseGradient: Float64Array): FlexibleStep | null {
    this.systems ??= this.factor();
    if (this.systems === null) return null;
    const { hessian } = this.look.equilibrium;
    const force = this.free.map((i) => poseGradient[i]!);
    const stiffness = this.free.flatMap((i) => this.free.map((j) => hessian[i * 6 + j]!));
    const floor = EIGENVALUE_FLOOR_MM2 * this.task.stack.stiffness;
    return flexibleStep(this.systems, this.look.gradients, stiffness, force, floor);
  }

  private factor(free: readonly number[] = this.free): readonly BarSystem[] | null {
    const { look, task, scratch } = this;
    const found = task.bars.map((bar, side) => barSystem(bar, side, task.body.bars[side]!.from, look, free, scratch));
    return found.includes(null) ? null : (found as BarSystem[]);
  }

  private tryStep(step: FlexibleStep, share: number): void {
    const { look, trial } = this;
    const full = new Float64Array(6);
    this.free.forEach((freedom, i) => {
      full[freedom] = share * step.pose[i]!;
    });
    trial.pose = movePose(look.pose, full);
    trial.u.forEach((u, side) => {
      for (let i = 0; i < u.length; i++) u[i] = look.u[side]![i]! + share * step.u[side]![i]!;
    });
    const furthest = share * Math.max(Math.hypot(...step.pose), ...step.u.map(largest));
    if (furthest < NEAR_MM) copyFeet(look.rows, trial.rows);
    lookAtBack(this.task, trial, furthest < NEAR_MM);
    bridgeLostCells(this.mask, look.rows, look.placed, trial.rows, trial.placed);
    balanceLook(this.task, trial, this.mask, this.scratch.vector);
  }

  private accept(): void {
    [this.look, this.trial] = [this.trial, this.look];
  }

  private residual(look: FlexibleLook): number {
    return this.share(look, levelForces(look.equilibrium, look.pose, this.free));
  }

  /** Unbalanced force, moment over the residual lever, and forces left on the bars, as a share of the load. */
  private share(look: FlexibleLook, gradient: Float64Array): number {
    const onBars = look.gradients.reduce((sum, g) => sum + dot(g, g), 0);
    return (unbalanceN(gradient, this.free) + Math.sqrt(onBars)) / this.loadN;
  }

  private report(settled: boolean): FlexibleSeat {
    const { look, mask } = this;
    const { pose, placed, rows, equilibrium, push } = look;
    const relativeResidual = this.residual(look);
    keepSpare(this.task, this.trial);
    const status: SeatStatus = equilibrium.pressedCells === 0 ? 'no contact' : settled ? 'settled' : 'iteration limit';
    return {
      status,
      pose,
      placedMm: placed,
      rows,
      mask,
      pressureMPa: push.pressureMPa,
      equilibrium: withGive(equilibrium, () => this.factor([0, 1, 2, 3, 4, 5])),
      steps: this.steps,
      relativeResidual,
      flex: look.u,
      movedMm: look.moved,
      bentNmm: look.bent,
      energies: this.energies,
    };
  }
}

const largest = (v: Float64Array): number => v.reduce((most, x) => Math.max(most, Math.abs(x)), 0);

/** The equilibrium with the pose's stiffness as the bars give way under it, worked out when it is asked for. */
function withGive(equilibrium: Equilibrium, factor: () => readonly BarSystem[] | null): Equilibrium {
  let own: Float64Array | null = null;
  return {
    energy: equilibrium.energy,
    gradient: equilibrium.gradient,
    pressedCells: equilibrium.pressedCells,
    get hessian() {
      if (own === null) {
        const systems = factor();
        own = systems === null ? equilibrium.hessian : hessianWithGive(systems, equilibrium);
      }
      return own;
    },
  };
}

function copyFeet(from: FootRows, to: FootRows): void {
  to.footMm.set(from.footMm);
  to.normal.set(from.normal);
  to.distanceMm.set(from.distanceMm);
  to.hasData.set(from.hasData);
}

/** Large arrays that no result holds on to, kept with the bars: one settling after another uses them again. */
const spares = new WeakMap<object, { look?: FlexibleLook; scratch?: SystemScratch }>();

function spareOf(task: FlexibleTask): { look?: FlexibleLook; scratch?: SystemScratch } {
  const found = spares.get(task.bars) ?? {};
  spares.set(task.bars, found);
  return found;
}

function takeSpare(task: FlexibleTask): FlexibleLook {
  const spare = spareOf(task);
  const look = spare.look;
  delete spare.look;
  return look !== undefined && look.rows.hasData.length === task.body.count ? look : createLook(task);
}

function keepSpare(task: FlexibleTask, look: FlexibleLook): void {
  spareOf(task).look = look;
}

function scratchOf(task: FlexibleTask): SystemScratch {
  const spare = spareOf(task);
  if (spare.scratch?.vector.length !== 3 * task.body.count) spare.scratch = createSystemScratch(task);
  return spare.scratch!;
}
