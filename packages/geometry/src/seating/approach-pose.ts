import type { LayerStack } from '../layers/index.ts';
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
import { type FrozenModel, freezeModel, levelForces, lowerUntil, solveFrozen } from './frozen-model.ts';
import { LEVER_MM, movePose, type Pose } from './pose.ts';
import { shiftRows } from './shift-rows.ts';
import { pickCells, thinBody } from './thin-body.ts';

/** What a seating is about. `shareOf` turns forces on the free unknowns into a share of the load. */
export interface SeatTask {
  readonly field: DistanceField;
  readonly stack: LayerStack;
  readonly loads: readonly Load[];
  readonly free: readonly number[];
  readonly loadN: number;
  /** Share of the load that may stay unbalanced. */
  readonly tolerance: number;
  readonly shareOf: (forces: Float64Array) => number;
}

/** A pose near the seated one, and whether the rows belong to it or to a pose close by. */
export interface Approach {
  readonly pose: Pose;
  readonly rowsAtPose: boolean;
}

/** Below this many cells the plain solver is quick enough. */
const LEAST_CELLS = 1000;
const COARSE_EVERY = 20;
const COARSE_SHARE = 2e-4;
const MOST_COARSE_LOOKS = 14;
/** A first coarse step shorter than this means a start near enough for the full body, mm. */
const NEAR_MM = 0.6;
/** No point moves further than this in a coarse and in a full step, mm. */
const COARSE_REACH_MM = 8;
const REACH_MM = 2;
const MOST_LOOKS = 6;
/** A part of the body with fewer cells than this share of it is worth looking at alone. */
const PART_SHARE = 0.6;
/** Least room to move before a part has to be chosen again, mm. */
const LEAST_MARGIN_MM = 0.05;
/** Done when the next unbalanced share, foreseen from the last two as if it fell linearly, is this part of the tolerance. */
const FORESEEN_PART = 1e-3;
/** Rows are carried along with moves up to this instead of being looked up again, mm. */
const SHIFT_MM = 1e-4;

/**
 * Quick way to near the seated pose, for bodies of many cells: every twentieth cell first, then full looks, and between
 * them looks at only those cells that can press. A distance changes by no more than its point moves (it is 1-Lipschitz),
 * so a cell further off than everything that moved since the last full look cannot press.
 *
 * Not safeguarded by the energy: answers null where a step does not bring the balance nearer, and the caller then takes
 * its own, slower way from `start`. Fills `rows` and `placed` with the last full look.
 */
export function approachPose(
  task: SeatTask,
  body: ContactBody,
  start: Pose,
  rows: FootRows,
  placed: Float64Array,
): Approach | null {
  if (body.count < LEAST_CELLS) return null;
  let pose = new Looker(task, thinBody(body, COARSE_EVERY)).settle(start);
  if (pose === null) return null;
  const full = new Looker(task, body, rows, placed);
  const enough = FORESEEN_PART * task.tolerance;
  let before = full.look(pose, false);
  for (let look = 0; look < MOST_LOOKS; look++) {
    if (before < enough) return full.finish(pose);
    const step = full.step(pose, REACH_MM);
    if (step === null) return null;
    const margin = Math.max(LEAST_MARGIN_MM, 3 * step.movedMm);
    if (full.countWithin(margin) < PART_SHARE * body.count) {
      const after = full.partWithin(margin, step.movedMm).settleFrom(step.pose, before);
      if (after === null) return null;
      if (after.done) return { pose: after.pose, rowsAtPose: false };
      pose = after.pose;
      before = full.look(pose, true);
      continue;
    }
    pose = step.pose;
    const share = full.look(pose, true);
    if (!(share < 0.7 * before)) return null;
    if (share * share < enough * before) return full.finish(pose);
    before = share;
  }
  return null;
}

interface Step {
  readonly pose: Pose;
  /** No point of the body moved further, mm. */
  readonly movedMm: number;
}

/** Looks at one body at given poses, and steps by the frozen model of the last look. */
class Looker {
  private readonly mask: Uint8Array;
  private readonly e: Equilibrium = createEquilibrium();
  /** Furthest point from the body's origin, mm. */
  private readonly reachMm: number;
  /** How far cells may still move before one that was left out could press, mm. */
  private slackMm = Number.POSITIVE_INFINITY;

  constructor(
    private readonly task: SeatTask,
    private readonly body: ContactBody,
    private readonly rows: FootRows = createFootRows(body.count),
    private readonly placed: Float64Array = new Float64Array(3 * body.count),
    reachMm?: number,
  ) {
    this.mask = new Uint8Array(body.count);
    this.reachMm = reachMm ?? furthest(body.pointsMm);
  }

  look(pose: Pose, nearRows: boolean): number {
    const { task, body, rows, placed, mask } = this;
    placePoints(body.pointsMm, pose, placed);
    queryFeet(task.field, body, placed, rows, true, { hessianBelowMm: task.stack.thicknessMm, nearRows });
    mask.set(rows.hasData);
    assembleEquilibrium(body, placed, rows, mask, task.stack, task.loads, pose, this.e);
    return task.shareOf(levelForces(this.e, pose, task.free));
  }

  step(pose: Pose, reachMm: number): Step | null {
    const { task, body, rows, placed, mask } = this;
    const model = freezeModel(body, placed, rows, mask, task.stack, pose, this.e, task.free, reachMm);
    const step = solveFrozen(model) ?? fromLowered(model, task.loadN, reachMm);
    if (step === null) return null;
    const moved = this.boundOf(step);
    const share = Math.min(1, reachMm / moved);
    const all = new Float64Array(6);
    task.free.forEach((freedom, i) => {
      all[freedom] = share * step[i]!;
    });
    return { pose: movePose(pose, all), movedMm: share * moved };
  }

  /** Coarse balance; the start itself where the first step is short. */
  settle(start: Pose): Pose | null {
    let pose = start;
    let best = Number.POSITIVE_INFINITY;
    for (let look = 0; look < MOST_COARSE_LOOKS; look++) {
      const share = this.look(pose, look > 0);
      if (share < COARSE_SHARE) return pose;
      if (look > 8 && !(share < best)) return null;
      best = Math.min(best, share);
      const next = this.step(pose, COARSE_REACH_MM);
      if (next === null) return null;
      if (look === 0 && next.movedMm < NEAR_MM) return start;
      pose = next.pose;
    }
    return null;
  }

  /** The last step, with the rows carried along when it is very short. */
  finish(pose: Pose): Approach | null {
    const last = this.step(pose, REACH_MM);
    if (last === null) return null;
    if (last.movedMm > SHIFT_MM) return { pose: last.pose, rowsAtPose: false };
    const from = this.placed.slice();
    placePoints(this.body.pointsMm, last.pose, this.placed);
    shiftRows(this.rows, from, this.placed, this.task.stack.thicknessMm);
    return { pose: last.pose, rowsAtPose: true };
  }

  countWithin(marginMm: number): number {
    const picked = new Int32Array(this.body.count);
    const limit = this.task.stack.thicknessMm + marginMm;
    return pickBelow(this.mask, this.rows.distanceMm, limit, 0, this.body.count, picked, 0);
  }

  /** The cells with data that press or come into contact within `marginMm`; `movedMm` of it are used up already. */
  partWithin(marginMm: number, movedMm: number): Looker {
    const { body, rows, task, mask } = this;
    const picked = new Int32Array(body.count);
    const limit = task.stack.thicknessMm + marginMm;
    let n = 0;
    const bars = body.bars.map((bar) => {
      const from = n;
      n = pickBelow(mask, rows.distanceMm, limit, bar.from, bar.to, picked, n);
      return { side: bar.side, from, to: n };
    });
    const part = new Looker(task, pickCells(body, picked, n, bars), undefined, undefined, this.reachMm);
    part.slackMm = marginMm - movedMm;
    part.rows.hasData.fill(1);
    copyPicked(rows.distanceMm, picked, n, 1, part.rows.distanceMm);
    copyPicked(rows.footMm, picked, n, 3, part.rows.footMm);
    copyPicked(rows.normal, picked, n, 3, part.rows.normal);
    return part;
  }

  /** Steps until one more would end below any tolerance; `done` is false where cells moved beyond the margin. */
  settleFrom(start: Pose, shareBefore: number): { pose: Pose; done: boolean } | null {
    const enough = FORESEEN_PART * this.task.tolerance;
    let pose = start;
    let before = shareBefore;
    for (let look = 0; look < MOST_LOOKS; look++) {
      const share = this.look(pose, true);
      if (share < enough) return { pose, done: true };
      if (!(share < 0.7 * before)) return null;
      const next = this.step(pose, REACH_MM);
      if (next === null) return null;
      pose = next.pose;
      this.slackMm -= next.movedMm;
      if (this.slackMm < 0) return { pose, done: false };
      if (share * share < enough * before) return { pose, done: true };
      before = share;
    }
    return null;
  }

  /** Turns move no point further than their angles times its distance from the origin. */
  private boundOf(step: Float64Array): number {
    let along2 = 0;
    let turn = 0;
    this.task.free.forEach((freedom, i) => {
      if (freedom < 3) along2 += step[i]! ** 2;
      else turn += Math.abs(step[i]!) / LEVER_MM;
    });
    return Math.sqrt(along2) + turn * this.reachMm;
  }
}

/** Where too few cells press to hold the body, it is lowered within the model first, and at worst held by springs. */
function fromLowered(model: FrozenModel, loadN: number, mostMm: number): Float64Array | null {
  const lowered = lowerUntil(model, loadN, mostMm);
  if (lowered === null) return null;
  return solveFrozen(model, lowered) ?? solveFrozen(model, lowered, loadN / mostMm);
}

function furthest(points: Float64Array): number {
  let most = 0;
  for (let i = 0; i < points.length; i += 3) {
    most = Math.max(most, points[i]! ** 2 + points[i + 1]! ** 2 + points[i + 2]! ** 2);
  }
  return Math.sqrt(most);
}

/** Cells of [from, to) with data nearer than `limit`: their indices into `picked` from place n on; answers the next place. */
function pickBelow(
  mask: Uint8Array,
  distanceMm: Float64Array,
  limit: number,
  from: number,
  to: number,
  picked: Int32Array,
  n: number,
): number {
  let next = n;
  for (let i = from; i < to; i++) if (mask[i] === 1 && distanceMm[i]! < limit) picked[next++] = i;
  return next;
}

function copyPicked(from: Float64Array, picked: Int32Array, n: number, width: number, to: Float64Array): void {
  for (let k = 0; k < n; k++) {
    for (let a = 0; a < width; a++) to[width * k + a] = from[width * picked[k]! + a]!;
  }
}
