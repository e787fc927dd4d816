import type { BackSurface } from '../back/back-surface.ts';
import { type BarSamples, liftTree, sampleBars, type Tree, type UndersideLift } from '../bar/index.ts';
import { deflectionLift, type FlexTree } from '../flex/index.ts';
import { type LayerStack, stackLayers } from '../layers/index.ts';
import type { DistanceField } from '../spatial/distance-field.ts';
import { applyShims } from './apply-shims.ts';
import type { ContactBody, Load } from './contact-energy.ts';
import { flexOf } from './flex-of.ts';
import type { FlexibleTask, FlexState } from './flexible-look.ts';
import { downwardNewtons, loadsOf } from './loads.ts';
import type { Pose } from './pose.ts';
import { type Seat, type SeatStatus, seatBody, seatBodyQuickly } from './seat.ts';
import { type FlexibleSeat, seatFlexible } from './seat-flexible.ts';
import type { Setup } from './setup-schema.ts';
import { stackOf } from './stack-of.ts';
import { thinBody } from './thin-body.ts';

/** A tree settled on a back, with all it was settled with. */
export interface SeatedTree {
  readonly tree: Tree;
  /** With the shims that lie on the horse. */
  readonly back: BackSurface;
  readonly setup: Setup;
  readonly samples: BarSamples;
  readonly stack: LayerStack;
  readonly loads: readonly Load[];
  /** Downward part of all loads, N. */
  readonly loadN: number;
  readonly seat: Seat;
  readonly status: SeatStatus;
  /** The tree as it stands under load: with its shims, bent where bars are flexible; `tree` itself where they are rigid and bare. */
  readonly loaded: Tree;
  /** null where the bars are rigid. */
  readonly flex: SeatedFlex | null;
}

/** How the bars give. */
export interface SeatedFlex {
  readonly bars: FlexTree;
  readonly seat: FlexibleSeat;
}

export interface SeatTreeOptions {
  /** A nearby pose to start from; otherwise the tree is lowered onto the back. */
  readonly start?: Pose;
  /** Where flexible bars stood at that pose. */
  readonly startFlex?: FlexState;
  readonly samples?: BarSamples;
  /** "Laid on": saddle only on near-rigid layers, to read the shapes. */
  readonly laidOn?: boolean;
  /**
   * For a picture that follows the hand, not for figures: bars that bend are coarser shells on fewer cells, settled to
   * 1e-4 of the load. Rigid bars are quick enough as they are and are seated as always.
   */
  readonly quick?: boolean;
}

/** Cells of both bars, and share of the load, of a quick seating (seat-quickly.test.ts says how near it comes). */
const QUICK_CELLS = 2400;
const QUICK_TOLERANCE = 1e-4;

/** Stiffness of the near-rigid layer when a tree is laid on, kPa/mm: saddle-weight squeeze stays under about 0.3 mm. */
const LAID_ON_KPA_PER_MM = 600;

/** The soft first steps of laying on only need to come near. */
const LAID_ON_EVERY = 20;

/** Settles height, pitch and roll under the setup's load; forward place, shift and yaw are held (DESIGN 4). */
export function seatTree(tree: Tree, bare: BackSurface, setup: Setup, options: SeatTreeOptions = {}): SeatedTree {
  const { tree: shimmed, back } = applyShims(tree, bare, setup);
  const flexible = setup.flex.bars === 'flexible' && !options.laidOn;
  const cells = flexible && options.quick ? Math.min(QUICK_CELLS, setup.samples) : setup.samples;
  const samples = options.samples ?? sampleBars(shimmed.left, shimmed.right, { samples: cells });
  const field = setup.path === 'exact' ? back.exact : back.fast;
  const stack = options.laidOn ? laidOnStack(1) : stackOf(setup);
  const loads = loadsOf(tree, options.laidOn ? saddleAlone(setup) : setup);
  const loadN = downwardNewtons(loads);
  const start = options.start ?? lowerOnto(samples, back, setup, stack.thicknessMm);
  const flex = flexible ? seatBent(tree, samples, setup, { field, stack, loads }, start, options) : null;
  const seat =
    flex !== null
      ? flex.seat
      : options.laidOn
        ? layOn(samples, field, loads, start, options.start !== undefined)
        : seatBody(samples, field, stack, loads, start);
  const status = seat.status === 'settled' && pressedAtDataEdge(samples, seat) ? 'off the data' : seat.status;
  // A shim adds no stiffness: the bars bend as bare ones, and carry their shims along.
  const loaded = flex === null ? shimmed : bent(shimmed, flex);
  return { tree, back, setup, samples, stack, loads, loadN, seat, status, loaded, flex };
}

/** Settled as if rigid first, unless a start is given: bars bend by millimetres from there. */
function seatBent(
  tree: Tree,
  samples: BarSamples,
  setup: Setup,
  { field, stack, loads }: Pick<FlexibleTask, 'field' | 'stack' | 'loads'>,
  start: Pose,
  options: SeatTreeOptions,
): SeatedFlex {
  const bars = flexOf(tree, samples, setup, options.quick ? 'quick' : 'fine');
  const task: FlexibleTask = { body: samples, bars, field, stack, loads };
  const pose = options.startFlex === undefined ? seatBody(samples, field, stack, loads, start).pose : start;
  const flex = options.startFlex?.every((u, side) => u.length === bars[side]!.stiffness.n)
    ? options.startFlex
    : undefined;
  const tolerance = options.quick ? { tolerance: QUICK_TOLERANCE } : {};
  return { bars, seat: seatFlexible(task, flex === undefined ? { pose } : { pose, flex }, tolerance) };
}

function bent(tree: Tree, { bars, seat }: SeatedFlex): Tree {
  const lift = (side: 0 | 1): UndersideLift =>
    deflectionLift(side === 0 ? tree.left : tree.right, bars[side].patch, seat.flex[side]);
  return liftTree(tree, { left: lift(0), right: lift(1) });
}

/** The saddle alone on a level horse, and at least a kilogram of it. */
function saddleAlone(setup: Setup): Setup {
  const { load } = setup;
  const saddleKg = Math.max(1, load.saddleKg);
  return { ...setup, load: { ...load, riderKg: 0, saddleKg, factor: 1, riseDeg: 0, pulls: [] } };
}

/**
 * Near-rigid contact from above is badly conditioned, so the layer hardens in steps: on few cells, which bring the pose
 * near enough for the quick way; where that does not serve, on all of them.
 */
function layOn(
  samples: BarSamples,
  field: DistanceField,
  loads: readonly Load[],
  start: Pose,
  startIsNear: boolean,
): Seat {
  const hardened = (body: ContactBody, shares: readonly number[]): Pose =>
    shares.reduce((at, share) => seatBody(body, field, laidOnStack(share), loads, at, { tolerance: 1e-2 }).pose, start);
  const near = startIsNear ? start : hardened(thinBody(samples, LAID_ON_EVERY), [1 / 256, 1 / 16]);
  const quick = seatBodyQuickly(samples, field, laidOnStack(1), loads, near);
  if (quick !== null) return quick;
  return seatBody(samples, field, laidOnStack(1), loads, hardened(samples, [1 / 256, 1 / 64, 1 / 16, 1 / 4]));
}

const laidOnStack = (share: number): LayerStack =>
  stackLayers([{ name: 'near-rigid', thicknessMm: 0, stiffnessKPaPerMm: LAID_ON_KPA_PER_MM * share }]);

/** Level, above the back by the layers' thickness at the nearest place, then pressed in a little. */
function lowerOnto(samples: BarSamples, back: BackSurface, setup: Setup, thicknessMm: number): Pose {
  const xMm = setup.setPositionMm - samples.frontTipXMm;
  const yMm = setup.shiftMm;
  let zMm = Number.NEGATIVE_INFINITY;
  const stride = Math.max(1, Math.floor(samples.columns / 5));
  for (let row = 0; row < 2 * samples.rows; row += 3) {
    for (let j = 0; j < samples.columns; j += stride) {
      const k = 3 * (row * samples.columns + j);
      const below = back.heightMm(samples.pointsMm[k]! + xMm, samples.pointsMm[k + 1]! + yMm);
      if (!Number.isNaN(below)) zMm = Math.max(zMm, below - samples.pointsMm[k + 2]!);
    }
  }
  if (zMm === Number.NEGATIVE_INFINITY) zMm = 0;
  const yawRad = (setup.yawDeg * Math.PI) / 180;
  return { xMm, yMm, zMm: zMm + 0.8 * thicknessMm, rollRad: 0, pitchRad: 0, yawRad };
}

/** true where a pressed cell has a neighbour on the bar without data: the bearing goes on where nothing is known. */
function pressedAtDataEdge(samples: BarSamples, seat: Seat): boolean {
  if (!seat.mask.includes(0)) return false;
  return samples.bars.some((bar) =>
    pressedBesideLost(seat.pressureMPa, samples.areaMm2, seat.mask, bar.from, bar.to, samples.columns),
  );
}

function pressedBesideLost(
  pressureMPa: Float64Array,
  areaMm2: Float64Array,
  mask: Uint8Array,
  from: number,
  to: number,
  columns: number,
): boolean {
  for (let i = from; i < to; i++) {
    if (pressureMPa[i] === 0 || areaMm2[i] === 0) continue;
    const j = (i - from) % columns;
    if (i - columns >= from && mask[i - columns] === 0) return true;
    if (i + columns < to && mask[i + columns] === 0) return true;
    if (j > 0 && mask[i - 1] === 0) return true;
    if (j < columns - 1 && mask[i + 1] === 0) return true;
  }
  return false;
}
