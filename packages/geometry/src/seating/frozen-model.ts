import type { LayerStack } from '../layers/index.ts';
import type { FootRows } from '../spatial/distance-field.ts';
import type { ContactBody, Equilibrium } from './contact-energy.ts';
import { LEVER_MM, type Pose, rotationAxes } from './pose.ts';

/** Rounds of choosing who presses within one model. */
const MOST_ROUNDS = 12;

/**
 * Balance near one exact look, with the cells' distances taken as linear in the step and their bends as frozen: piecewise
 * linear, because cells near the threshold come into contact or leave it, and because layers that are not linear go on
 * along their tangents. Unknowns as in pose.ts, those of `free` only.
 */
export interface FrozenModel {
  readonly free: readonly number[];
  /** Unbalanced force at no step, about the level axes when yaw is held (see levelForces). */
  readonly force: Float64Array;
  /** n x n row-major: its change with the step. */
  readonly change: Float64Array;
  /**
   * Cells that may change sides within the window: squeeze (where layers are not linear, the squeeze that their tangent
   * takes to let go of the pressure), area times tangent, and per free unknown two rows.
   */
  readonly squeeze: Float64Array;
  readonly weight: Float64Array;
  /** dd/dq per cell, n each; and the same about the level axes. */
  readonly slope: Float64Array;
  readonly levelSlope: Float64Array;
  readonly cells: number;
}

/** A yaw held as an Euler angle takes part of the moment about the leaning roll axis: added back, so that it is level. */
export function levelForces(e: Equilibrium, pose: Pose, free: readonly number[]): Float64Array {
  const g = Float64Array.from(e.gradient);
  if (!free.includes(5)) g[3]! += Math.sin(pose.pitchRad) * g[5]!;
  return g;
}

/** Builds the model from a look and its assembled equilibrium; cells with |squeeze| below the window may change sides. */
export function freezeModel(
  body: ContactBody,
  placed: Float64Array,
  rows: FootRows,
  mask: Uint8Array,
  stack: LayerStack,
  pose: Pose,
  e: Equilibrium,
  free: readonly number[],
  windowMm: number,
): FrozenModel {
  const n = free.length;
  const level = free.includes(5) ? 0 : Math.sin(pose.pitchRad);
  const full = levelForces(e, pose, free);
  const change = new Float64Array(n * n);
  for (let a = 0; a < n; a++) {
    for (let b = 0; b < n; b++) {
      change[a * n + b] = e.hessian[free[a]! * 6 + free[b]!]!;
      if (free[a] !== 3) continue;
      change[a * n + b]! += level * e.hessian[30 + free[b]!]!;
      if (level !== 0 && free[b] === 4) change[a * n + b]! += (Math.cos(pose.pitchRad) * e.gradient[5]!) / LEVER_MM;
    }
  }
  const near = new Int32Array(body.count);
  const cells = listNear(mask, rows.distanceMm, stack.thicknessMm, windowMm, near);
  const model: FrozenModel = {
    free,
    force: Float64Array.from(free, (i) => full[i]!),
    change,
    squeeze: new Float64Array(cells),
    weight: new Float64Array(cells),
    slope: new Float64Array(n * cells),
    levelSlope: new Float64Array(n * cells),
    cells,
  };
  const chosen = near.subarray(0, cells);
  const onTangent = new Float64Array(cells);
  const tangent = new Float64Array(cells);
  tangents(stack, rows.distanceMm, chosen, onTangent, tangent);
  fillCells(
    chosen,
    Int32Array.from(free),
    Float64Array.from(rotationAxes(pose).flat()),
    Float64Array.of(pose.xMm, pose.yMm, pose.zMm),
    placed,
    rows.normal,
    body.areaMm2,
    onTangent,
    tangent,
    level,
    model.squeeze,
    model.weight,
    model.slope,
    model.levelSlope,
  );
  return model;
}

/** Cells with data whose squeeze lies within the window: their indices to `near`, answers how many. */
function listNear(
  mask: Uint8Array,
  distanceMm: Float64Array,
  thicknessMm: number,
  windowMm: number,
  near: Int32Array,
): number {
  let cells = 0;
  for (let i = 0; i < mask.length; i++) {
    if (mask[i] === 1 && Math.abs(thicknessMm - distanceMm[i]!) < windowMm) near[cells++] = i;
  }
  return cells;
}

/** The law's tangent at the chosen cells (at the first touch for those that are clear), and where it meets no pressure. */
function tangents(
  { law, stiffness, thicknessMm }: LayerStack,
  distanceMm: Float64Array,
  chosen: Int32Array,
  onTangent: Float64Array,
  tangent: Float64Array,
): void {
  for (let k = 0; k < chosen.length; k++) onTangent[k] = thicknessMm - distanceMm[chosen[k]!]!;
  if (law.linear !== null) {
    tangent.fill(law.linear);
    return;
  }
  const squeeze = onTangent.slice();
  law.fill(squeeze, onTangent, tangent, new Float64Array(chosen.length));
  for (let k = 0; k < chosen.length; k++) {
    if (squeeze[k]! > 0) {
      onTangent[k]! /= tangent[k]!;
      continue;
    }
    onTangent[k] = squeeze[k]!;
    tangent[k] = stiffness;
  }
}

/** Loops here take arrays and numbers only; see sum-cells.ts for why. */
function fillCells(
  near: Int32Array,
  free: Int32Array,
  axes: Float64Array,
  origin: Float64Array,
  placed: Float64Array,
  normal: Float64Array,
  areaMm2: Float64Array,
  onTangent: Float64Array,
  tangent: Float64Array,
  level: number,
  squeeze: Float64Array,
  weight: Float64Array,
  slope: Float64Array,
  levelSlope: Float64Array,
): void {
  const n = free.length;
  const all = new Float64Array(6);
  const [ox, oy, oz] = [origin[0]!, origin[1]!, origin[2]!];
  for (let k = 0; k < near.length; k++) {
    const i = near[k]!;
    const j = 3 * i;
    const nx = normal[j]!;
    const ny = normal[j + 1]!;
    const nz = normal[j + 2]!;
    const rx = placed[j]! - ox;
    const ry = placed[j + 1]! - oy;
    const rz = placed[j + 2]! - oz;
    const mx = ry * nz - rz * ny;
    const my = rz * nx - rx * nz;
    const mz = rx * ny - ry * nx;
    all[0] = nx;
    all[1] = ny;
    all[2] = nz;
    for (let a = 0; a < 3; a++) {
      all[3 + a] = (axes[3 * a]! * mx + axes[3 * a + 1]! * my + axes[3 * a + 2]! * mz) / LEVER_MM;
    }
    squeeze[k] = onTangent[k]!;
    weight[k] = areaMm2[i]! * tangent[k]!;
    for (let a = 0; a < n; a++) {
      const value = all[free[a]!]!;
      slope[n * k + a] = value;
      levelSlope[n * k + a] = free[a] === 3 ? value + level * all[5]! : value;
    }
  }
}

/**
 * The step that balances the model: semismooth Newton, i.e. solve, see who presses now, solve again until nobody changes
 * sides. null where the model has no firm bottom (an eigenvalue that is not positive) on the way.
 * @param first a guess at the step, for a start where too little presses to solve at all
 * @param holdNPerMm springs on all unknowns, for a model without a firm bottom: a shorter step that is not the balance
 */
export function solveFrozen(model: FrozenModel, first?: Float64Array, holdNPerMm = 0): Float64Array | null {
  const n = model.free.length;
  let step: Float64Array = first ?? new Float64Array(n);
  const a = new Float64Array(n * n);
  const g = new Float64Array(n);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    a.set(model.change);
    g.set(model.force);
    for (let i = 0; i < n; i++) a[i * n + i]! += holdNPerMm;
    addSideChanges(model.cells, model.squeeze, model.weight, model.slope, model.levelSlope, step, a, g);
    const next = solveSmall(a, g, n);
    if (next === null) return null;
    let moved = 0;
    for (let i = 0; i < n; i++) moved = Math.max(moved, Math.abs(next[i]! - step[i]!));
    step = next;
    if (moved < 1e-13 || model.cells === 0) break;
  }
  return step;
}

/**
 * The step straight down at which the window's cells push back with the whole load, by halving within `mostMm`; null
 * where height is not free or they never do.
 */
export function lowerUntil(model: FrozenModel, loadN: number, mostMm: number): Float64Array | null {
  const { free, squeeze, weight, slope, cells } = model;
  const n = free.length;
  const z = free.indexOf(2);
  if (z < 0) return null;
  const push = (down: number): number => {
    let sum = 0;
    for (let k = 0; k < cells; k++) {
      const up = slope[n * k + z]!;
      sum += weight[k]! * up * Math.max(0, squeeze[k]! + up * down);
    }
    return sum;
  };
  let low = 0;
  let high = mostMm;
  if (push(high) < loadN) return null;
  for (let halving = 0; halving < 12; halving++) {
    const mid = 0.5 * (low + high);
    if (push(mid) < loadN) low = mid;
    else high = mid;
  }
  const step = new Float64Array(n);
  step[z] = -high;
  return step;
}

/** Takes cells that left contact out of the system and puts those in that came into it. */
function addSideChanges(
  cells: number,
  squeeze: Float64Array,
  weight: Float64Array,
  slope: Float64Array,
  levelSlope: Float64Array,
  step: Float64Array,
  a: Float64Array,
  g: Float64Array,
): void {
  const n = step.length;
  for (let k = 0; k < cells; k++) {
    const c0 = squeeze[k]!;
    let c = c0;
    const at = n * k;
    for (let i = 0; i < n; i++) c -= slope[at + i]! * step[i]!;
    if (c0 > 0 === c > 0) continue;
    const w = c > 0 ? weight[k]! : -weight[k]!;
    for (let i = 0; i < n; i++) {
      const wi = w * levelSlope[at + i]!;
      g[i]! -= wi * c0;
      for (let j = 0; j < n; j++) a[i * n + j]! += wi * slope[at + j]!;
    }
  }
}

/** Solves A s = -g by elimination without exchange; null where a pivot is not positive. */
function solveSmall(matrix: Float64Array, g: Float64Array, n: number): Float64Array | null {
  const a = Float64Array.from(matrix);
  const s = g.map((v) => -v);
  const least = 1e-9 * Math.max(...a.map((v) => Math.abs(v)));
  for (let k = 0; k < n; k++) {
    const pivot = a[k * n + k]!;
    if (!(pivot > least)) return null;
    for (let i = k + 1; i < n; i++) {
      const factor = a[i * n + k]! / pivot;
      for (let j = k; j < n; j++) a[i * n + j]! -= factor * a[k * n + j]!;
      s[i]! -= factor * s[k]!;
    }
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let j = i + 1; j < n; j++) s[i]! -= a[i * n + j]! * s[j]!;
    s[i]! /= a[i * n + i]!;
  }
  return s;
}
