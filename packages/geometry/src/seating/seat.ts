import type { LayerStack } from '../layers/index.ts';
import { downhillStep } from '../numeric/index.ts';
import { createFootRows, type DistanceField, type FootRows } from '../spatial/distance-field.ts';
import {
  assembleEquilibrium,
  type ContactBody,
  createEquilibrium,
  type Equilibrium,
  type Load,
  placePoints,
  queryFeet,
} from './contact-energy.ts';
import { FREEDOMS, type Freedom, movePose, type Pose, SEATING_FREEDOMS } from './pose.ts';

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
/** The moment of the residual is compared with the load times this lever, mm (DESIGN 4). */
const RESIDUAL_LEVER_MM = 100;

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
  const solver = new Solver(body, field, stack, loads, options);
  return solver.run(start);
}

class Solver {
  private readonly free: readonly number[];
  private readonly tolerance: number;
  private readonly loadN: number;
  private readonly placed: Float64Array;
  private readonly trialPlaced: Float64Array;
  private rows: FootRows;
  private trialRows: FootRows;
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
    const names = options.free ?? SEATING_FREEDOMS;
    this.free = FREEDOMS.map((name, i) => (names.includes(name) ? i : -1)).filter((i) => i >= 0);
    this.tolerance = options.tolerance ?? (field.smooth ? SMOOTH_TOLERANCE : FACET_TOLERANCE);
    this.loadN = Math.max(1e-9, Math.hypot(...sumOfForces(loads)));
    this.placed = new Float64Array(body.pointsMm.length);
    this.trialPlaced = new Float64Array(body.pointsMm.length);
    this.rows = createFootRows(body.count);
    this.trialRows = createFootRows(body.count);
    this.mask = new Uint8Array(body.count);
  }

  run(start: Pose): Seat {
    let pose = start;
    let settled = false;
    for (let pass = 0; pass < MOST_MASK_PASSES; pass++) {
      this.look(pose);
      const changed = this.renewMask();
      if (pass > 0 && !changed && settled) break;
      const result = this.newton(pose);
      pose = result.pose;
      settled = result.settled;
    }
    this.look(pose);
    this.assemble(pose, this.placed, this.rows, this.current);
    return this.report(pose, settled);
  }

  private look(pose: Pose): void {
    placePoints(this.body.pointsMm, pose, this.placed);
    queryFeet(this.field, this.body, this.placed, this.rows, true);
  }

  private renewMask(): boolean {
    let changed = false;
    for (let i = 0; i < this.mask.length; i++) {
      const has = this.rows.hasData[i]!;
      if (this.mask[i] !== has) changed = true;
      this.mask[i] = has;
    }
    return changed;
  }

  private assemble(pose: Pose, placed: Float64Array, rows: FootRows, out: Equilibrium): void {
    assembleEquilibrium(this.body, placed, rows, this.mask, this.stack, this.loads, pose, out);
  }

  private newton(start: Pose): { pose: Pose; settled: boolean } {
    let pose = start;
    const most = this.options.mostSteps ?? 80;
    this.assemble(pose, this.placed, this.rows, this.current);
    for (let i = 0; i < most; i++) {
      if (this.residual(this.current) < this.tolerance) return { pose, settled: true };
      this.steps++;
      const next = this.takeStep(pose);
      if (next === null) return { pose, settled: this.residual(this.current) < this.tolerance };
      pose = next;
    }
    return { pose, settled: this.residual(this.current) < this.tolerance };
  }

  /** One safeguarded step; null where no shorter step lowers the energy (rounding, or a kink of raw facets). */
  private takeStep(pose: Pose): Pose | null {
    const n = this.free.length;
    const g = this.free.map((i) => this.current.gradient[i]!);
    const h = this.free.flatMap((i) => this.free.map((j) => this.current.hessian[i * 6 + j]!));
    const floor = Math.max(1e-9, 1e-6 * this.stack.stiffness * 1e4);
    const step = downhillStep(h, g, n, floor);
    const length = Math.hypot(...step);
    const bound = Math.min(1, TRUST_MM / length);
    const downhill = step.reduce((sum, s, i) => sum + s * g[i]!, 0);
    const before = this.residual(this.current);
    for (let share = bound, halvings = 0; halvings < 30; halvings++, share /= 2) {
      const full = new Float64Array(6);
      this.free.forEach((freedom, i) => {
        full[freedom] = share * step[i]!;
      });
      const next = movePose(pose, full);
      this.lookTrial(next);
      const gain = this.trial.energy - this.current.energy;
      const flat = Math.abs(gain) <= 1e-13 * (Math.abs(this.trial.energy) + this.loadN);
      if (gain <= 1e-4 * share * downhill || (flat && this.residual(this.trial) < before)) {
        this.accept();
        return next;
      }
    }
    return null;
  }

  private lookTrial(pose: Pose): void {
    placePoints(this.body.pointsMm, pose, this.trialPlaced);
    queryFeet(this.field, this.body, this.trialPlaced, this.trialRows, true);
    this.bridgeLostCells();
    this.assemble(pose, this.trialPlaced, this.trialRows, this.trial);
  }

  /** A frozen cell that has just lost its foot keeps the last tangent plane until the mask is renewed. */
  private bridgeLostCells(): void {
    const { rows, trialRows: next, placed, trialPlaced } = this;
    for (let i = 0; i < this.mask.length; i++) {
      if (this.mask[i] === 0 || next.hasData[i] === 1) continue;
      let d = rows.distanceMm[i]!;
      for (let a = 3 * i; a < 3 * i + 3; a++) {
        d += rows.normal[a]! * (trialPlaced[a]! - placed[a]!);
        next.normal[a] = rows.normal[a]!;
        next.footMm[a] = rows.footMm[a]!;
      }
      next.distanceMm[i] = d;
      next.hessian.fill(0, 6 * i, 6 * i + 6);
    }
  }

  private accept(): void {
    [this.rows, this.trialRows] = [this.trialRows, this.rows];
    [this.current, this.trial] = [this.trial, this.current];
    this.placed.set(this.trialPlaced);
  }

  /** Largest unbalanced force, and moment over the residual lever, as a share of the load. */
  private residual(e: Equilibrium): number {
    let force = 0;
    let moment = 0;
    for (const i of this.free) {
      if (i < 3) force += e.gradient[i]! ** 2;
      else moment += (e.gradient[i]! * (200 / RESIDUAL_LEVER_MM)) ** 2;
    }
    return (Math.sqrt(force) + Math.sqrt(moment)) / this.loadN;
  }

  private report(pose: Pose, settled: boolean): Seat {
    const pressureMPa = new Float64Array(this.body.count);
    for (let i = 0; i < this.body.count; i++) {
      if (this.mask[i] === 0) continue;
      pressureMPa[i] = Math.max(0, this.stack.stiffness * (this.stack.thicknessMm - this.rows.distanceMm[i]!));
    }
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
      relativeResidual: this.residual(this.current),
    };
  }
}

function sumOfForces(loads: readonly Load[]): [number, number, number] {
  const sum: [number, number, number] = [0, 0, 0];
  for (const { forceN } of loads) for (let a = 0; a < 3; a++) sum[a]! += forceN[a]!;
  return sum;
}
