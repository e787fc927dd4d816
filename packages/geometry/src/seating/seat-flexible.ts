import { displaceCells, type FlexTree } from '../flex/index.ts';
import type { LayerStack } from '../layers/index.ts';
import { multiplyBand } from '../numeric/index.ts';
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
import {
  type BarSystem,
  barGradient,
  barSystem,
  type CellPush,
  createSystemScratch,
  displacedBody,
  type FlexibleStep,
  flexibleStep,
  giveToHessian,
} from './flexible-system.ts';
import { levelForces } from './frozen-model.ts';
import { FREEDOMS, LEVER_MM, movePose, type Pose, SEATING_FREEDOMS } from './pose.ts';
import { FACET_TOLERANCE, type Seat, type SeatOptions, type SeatStatus, SMOOTH_TOLERANCE } from './seat.ts';

/** Where flexible bars stand: the unknowns of both, left first. */
export type FlexState = readonly [Float64Array, Float64Array];

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
const MOST_LEVEL_STEPS = 8;
const EIGENVALUE_FLOOR_MM2 = 0.01;
const RESIDUAL_LEVER_MM = 100;

/** One look: where everything stands and how far it is from balance. */
interface Look {
  readonly pose: Pose;
  readonly u: FlexState;
  readonly body: ContactBody;
  readonly moved: Float64Array;
  readonly placed: Float64Array;
  readonly rows: FootRows;
  readonly push: CellPush;
  readonly equilibrium: Equilibrium;
  readonly gradients: readonly Float64Array[];
  readonly bent: number;
  readonly energy: number;
}

/**
 * Minimises the energy of layers, bars, ties and loads over the pose's free unknowns and both bars' displacements at
 * once: Newton with exact second derivatives, the bars eliminated by their own factors, the pose left as a small system.
 * The load balances as it does for rigid bars, because the pose moves bars and all.
 * @param body the unloaded undersides' cells, left bar first, in the rows and columns of the bars' grids
 */
export function seatFlexible(
  body: ContactBody,
  bars: FlexTree,
  field: DistanceField,
  stack: LayerStack,
  loads: readonly Load[],
  start: { readonly pose: Pose; readonly flex?: FlexState },
  options: SeatOptions = {},
): FlexibleSeat {
  return new FlexibleSolver(body, bars, field, stack, loads, options).run(start.pose, start.flex);
}

class FlexibleSolver {
  private readonly free: readonly number[];
  private readonly tolerance: number;
  private readonly loadN: number;
  private readonly mask: Uint8Array;
  private readonly scratch: ReturnType<typeof createSystemScratch>;
  private steps = 0;
  private readonly energies: number[] = [];

  constructor(
    private readonly body: ContactBody,
    private readonly bars: FlexTree,
    private readonly field: DistanceField,
    private readonly stack: LayerStack,
    private readonly loads: readonly Load[],
    private readonly options: SeatOptions,
  ) {
    const names = options.free ?? SEATING_FREEDOMS;
    this.free = FREEDOMS.map((name, i) => (names.includes(name) ? i : -1)).filter((i) => i >= 0);
    this.tolerance = options.tolerance ?? (field.smooth ? SMOOTH_TOLERANCE : FACET_TOLERANCE);
    const sum = [0, 1, 2].map((a) => loads.reduce((total, load) => total + load.forceN[a]!, 0));
    this.loadN = Math.max(1e-9, Math.hypot(...sum));
    this.mask = new Uint8Array(body.count);
    this.scratch = createSystemScratch(body.count, this.free.length);
  }

  run(pose: Pose, flex?: FlexState): FlexibleSeat {
    const rest = (): FlexState => [
      new Float64Array(this.bars[0].stiffness.n),
      new Float64Array(this.bars[1].stiffness.n),
    ];
    let look = this.lookAt(pose, flex ?? rest(), null);
    let settled = false;
    for (let pass = 0; pass < MOST_MASK_PASSES; pass++) {
      const changed = this.renewMask(look.rows);
      if (pass > 0 && !changed && settled) break;
      look = this.level(this.descend(changed ? this.assemble(look) : look));
      settled = this.residual(look) < this.tolerance;
    }
    return this.report(look, settled);
  }

  private renewMask(rows: FootRows): boolean {
    const changed = this.mask.some((value, i) => value !== rows.hasData[i]);
    this.mask.set(rows.hasData);
    return changed;
  }

  private lookAt(pose: Pose, u: FlexState, before: Look | null): Look {
    const moved = new Float64Array(3 * this.body.count);
    this.bars.forEach((bar, side) => {
      const from = this.body.bars[side]!.from;
      displaceCells(bar.grid, u[side]!, moved, 3 * from);
      if (bar.mirror < 0) flipY(moved, 3 * from, 3 * this.body.bars[side]!.to);
    });
    const body = displacedBody(this.body, moved);
    const placed = new Float64Array(moved.length);
    placePoints(body.pointsMm, pose, placed);
    const rows = createFootRows(body.count);
    queryFeet(this.field, body, placed, rows, true, { hessianBelowMm: this.stack.thicknessMm });
    if (before === null) this.mask.set(rows.hasData);
    else bridgeLostCells(this.mask, before, placed, rows);
    return this.assemble({ pose, u, body, moved, placed, rows });
  }

  /** Adds up energy and forces of a look under the present mask. */
  private assemble(at: Pick<Look, 'pose' | 'u' | 'body' | 'moved' | 'placed' | 'rows'>): Look {
    const { pose, u, body, placed, rows } = at;
    const equilibrium = createEquilibrium();
    assembleEquilibrium(body, placed, rows, this.mask, this.stack, this.loads, pose, equilibrium);
    const push = pushOf(this.stack, this.mask, rows.distanceMm, body.areaMm2);
    const gradients = this.bars.map((bar, side) =>
      barGradient(bar, body.bars[side]!.from, u[side]!, push, rows, pose, this.scratch.vector),
    );
    const bent = this.bars.reduce((sum, { stiffness }, side) => sum + storedIn(stiffness, u[side]!), 0);
    return { ...at, equilibrium, push, gradients, bent, energy: equilibrium.energy + bent };
  }

  /** Down the energy until the unbalanced share is below the tolerance or no step lowers it. */
  private descend(start: Look): Look {
    let look = start;
    this.energies.push(look.energy);
    for (let i = 0; i < (this.options.mostSteps ?? MOST_STEPS); i++) {
      if (this.share(look, look.equilibrium.gradient) < this.tolerance) return look;
      this.steps++;
      const next = this.takeStep(look);
      if (next === null) return look;
      this.energies.push(next.energy);
      look = next;
    }
    return look;
  }

  /** Last steps, to where the moments about the level axes vanish (see levelForces). */
  private level(start: Look): Look {
    let look = start;
    for (let i = 0; i < MOST_LEVEL_STEPS; i++) {
      const before = this.residual(look);
      if (before < 0.01 * this.tolerance || look.equilibrium.pressedCells === 0) return look;
      const step = this.stepFrom(look, levelForces(look.equilibrium, look.pose, this.free));
      if (step === null) return look;
      const next = this.move(look, step, 1);
      if (!(this.residual(next) < before)) return look;
      look = next;
    }
    return look;
  }

  private takeStep(look: Look): Look | null {
    const { gradient } = look.equilibrium;
    const step = this.stepFrom(look, gradient);
    if (step === null) return null;
    const downhill =
      step.pose.reduce((sum, s, i) => sum + s * gradient[this.free[i]!]!, 0) +
      step.u.reduce((sum, du, side) => sum + dot(du, look.gradients[side]!), 0);
    const furthest = Math.max(Math.hypot(...step.pose), ...step.u.map(largest));
    const before = this.share(look, gradient);
    for (let share = Math.min(1, TRUST_MM / furthest), halvings = 0; halvings < 30; halvings++, share /= 2) {
      const next = this.move(look, step, share);
      const gain = next.energy - look.energy;
      const flat = Math.abs(gain) <= 1e-13 * (Math.abs(next.energy) + this.loadN);
      if (gain <= 1e-4 * share * downhill || (flat && this.share(next, next.equilibrium.gradient) < before))
        return next;
    }
    return null;
  }

  private stepFrom(look: Look, poseGradient: Float64Array): FlexibleStep | null {
    const systems = this.systems(look, this.free);
    if (systems === null) return null;
    const { hessian } = look.equilibrium;
    const force = this.free.map((i) => poseGradient[i]!);
    const stiffness = this.free.flatMap((i) => this.free.map((j) => hessian[i * 6 + j]!));
    return flexibleStep(systems, stiffness, force, EIGENVALUE_FLOOR_MM2 * this.stack.stiffness);
  }

  private systems(look: Look, free: readonly number[]): BarSystem[] | null {
    const { placed, rows, pose, push, gradients, body } = look;
    const scratch = free.length === this.free.length ? this.scratch : createSystemScratch(body.count, free.length);
    const found = this.bars.map((bar, side) =>
      barSystem(bar, body.bars[side]!.from, gradients[side]!, push, placed, rows, pose, free, scratch),
    );
    return found.includes(null) ? null : (found as BarSystem[]);
  }

  private move(look: Look, step: FlexibleStep, share: number): Look {
    const full = new Float64Array(6);
    this.free.forEach((freedom, i) => {
      full[freedom] = share * step.pose[i]!;
    });
    const add = (u: Float64Array, du: Float64Array): Float64Array => u.map((value, i) => value + share * du[i]!);
    return this.lookAt(movePose(look.pose, full), [add(look.u[0], step.u[0]!), add(look.u[1], step.u[1]!)], look);
  }

  private residual(look: Look): number {
    return this.share(look, levelForces(look.equilibrium, look.pose, this.free));
  }

  /** Unbalanced force, moment over the residual lever, and forces left on the bars, as a share of the load. */
  private share(look: Look, gradient: Float64Array): number {
    let force = 0;
    let moment = 0;
    for (const i of this.free) {
      if (i < 3) force += gradient[i]! ** 2;
      else moment += (gradient[i]! * (LEVER_MM / RESIDUAL_LEVER_MM)) ** 2;
    }
    const onBars = look.gradients.reduce((sum, g) => sum + dot(g, g), 0);
    return (Math.sqrt(force) + Math.sqrt(moment) + Math.sqrt(onBars)) / this.loadN;
  }

  private report(look: Look, settled: boolean): FlexibleSeat {
    const { pose, placed, rows, equilibrium, push } = look;
    const all = this.systems(look, [0, 1, 2, 3, 4, 5]);
    if (all !== null) giveToHessian(all, equilibrium);
    const status: SeatStatus = equilibrium.pressedCells === 0 ? 'no contact' : settled ? 'settled' : 'iteration limit';
    return {
      status,
      pose,
      placedMm: placed,
      rows,
      mask: this.mask,
      pressureMPa: push.pressureMPa,
      equilibrium,
      steps: this.steps,
      relativeResidual: this.residual(look),
      flex: look.u,
      movedMm: look.moved,
      bentNmm: look.bent,
      energies: this.energies,
    };
  }
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

const largest = (v: Float64Array): number => v.reduce((most, x) => Math.max(most, Math.abs(x)), 0);

/** u K u / 2. */
function storedIn(stiffness: Parameters<typeof multiplyBand>[0], u: Float64Array): number {
  const ku = new Float64Array(u.length);
  multiplyBand(stiffness, u, ku);
  return 0.5 * dot(u, ku);
}

/** Loops over all cells take arrays and numbers only; see sum-cells.ts for why. */
function flipY(points: Float64Array, from: number, to: number): void {
  for (let i = from + 1; i < to; i += 3) points[i] = -points[i]!;
}

function pushOf(stack: LayerStack, mask: Uint8Array, distanceMm: Float64Array, areaMm2: Float64Array): CellPush {
  const n = mask.length;
  const push: CellPush = {
    pressureMPa: new Float64Array(n),
    forceN: new Float64Array(n),
    stiffness: new Float64Array(n),
  };
  for (let i = 0; i < n; i++) {
    const squeeze = stack.thicknessMm - distanceMm[i]!;
    if (mask[i] === 0 || !(squeeze > 0)) continue;
    push.pressureMPa[i] = stack.stiffness * squeeze;
    push.forceN[i] = areaMm2[i]! * push.pressureMPa[i]!;
    push.stiffness[i] = areaMm2[i]! * stack.stiffness;
  }
  return push;
}

/** A frozen cell that has just lost its foot keeps the last tangent plane until the mask is renewed. */
function bridgeLostCells(mask: Uint8Array, before: Look, placed: Float64Array, next: FootRows): void {
  const { rows } = before;
  for (let i = 0; i < mask.length; i++) {
    if (mask[i] === 0 || next.hasData[i] === 1) continue;
    let d = rows.distanceMm[i]!;
    for (let a = 3 * i; a < 3 * i + 3; a++) {
      d += rows.normal[a]! * (placed[a]! - before.placed[a]!);
      next.normal[a] = rows.normal[a]!;
      next.footMm[a] = rows.footMm[a]!;
    }
    next.distanceMm[i] = d;
    next.hessian.fill(0, 6 * i, 6 * i + 6);
  }
}
