import { addCellForces, displaceCells, type FlexTree } from '../flex/index.ts';
import type { LayerStack } from '../layers/index.ts';
import { multiplyBand, rotationOf } from '../numeric/index.ts';
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
import type { Pose } from './pose.ts';
import { createPressedCells, type PressedCells, pressCells } from './press-cells.ts';

/** Where flexible bars stand: the unknowns of both, left first. */
export type FlexState = readonly [Float64Array, Float64Array];

/** What is pressed onto what. */
export interface FlexibleTask {
  /** The unloaded undersides' cells, left bar first, in the rows and columns of the bars' grids. */
  readonly body: ContactBody;
  readonly bars: FlexTree;
  readonly field: DistanceField;
  readonly stack: LayerStack;
  readonly loads: readonly Load[];
}

/** What the cells do at one look: beside the law's answers force area x p and stiffness area x dp/dc, 0 where one does not press. */
export interface CellPush extends PressedCells {
  readonly forceN: Float64Array;
  readonly stiffness: Float64Array;
}

/** One look: where everything stands and how far it is from balance. Its arrays are filled anew by `fillLook`. */
export interface FlexibleLook {
  pose: Pose;
  readonly u: FlexState;
  /** Points moved by the bars' displacements, bar frame. */
  readonly body: ContactBody;
  readonly moved: Float64Array;
  readonly placed: Float64Array;
  readonly rows: FootRows;
  readonly push: CellPush;
  readonly equilibrium: Equilibrium;
  /** Unbalanced forces on each bar's unknowns. */
  readonly gradients: readonly Float64Array[];
  bent: number;
  energy: number;
}

export function createLook({ body, bars }: FlexibleTask): FlexibleLook {
  const n = body.count;
  const perBar = (): FlexState => [new Float64Array(bars[0].stiffness.n), new Float64Array(bars[1].stiffness.n)];
  return {
    pose: { xMm: 0, yMm: 0, zMm: 0, rollRad: 0, pitchRad: 0, yawRad: 0 },
    u: perBar(),
    body: { ...body, pointsMm: new Float64Array(3 * n) },
    moved: new Float64Array(3 * n),
    placed: new Float64Array(3 * n),
    rows: createFootRows(n),
    push: { ...createPressedCells(n), forceN: new Float64Array(n), stiffness: new Float64Array(n) },
    equilibrium: createEquilibrium(),
    gradients: perBar(),
    bent: 0,
    energy: 0,
  };
}

/** Places the bent bars at the look's pose and unknowns and asks the back; `nearRows`: see FootHints. */
export function lookAtBack(task: FlexibleTask, look: FlexibleLook, nearRows: boolean): void {
  const { body, bars, field, stack } = task;
  bars.forEach((bar, side) => {
    const { from, to } = body.bars[side]!;
    displaceCells(bar.grid, look.u[side]!, look.moved, 3 * from);
    if (bar.mirror < 0) flipY(look.moved, 3 * from, 3 * to);
  });
  addUp(body.pointsMm, look.moved, look.body.pointsMm);
  placePoints(look.body.pointsMm, look.pose, look.placed);
  queryFeet(field, look.body, look.placed, look.rows, true, { hessianBelowMm: stack.thicknessMm, nearRows });
}

/** Adds up energy and forces of a look under a mask. `scratch` has three places per cell. */
export function balanceLook(task: FlexibleTask, look: FlexibleLook, mask: Uint8Array, scratch: Float64Array): void {
  const { bars, stack, loads } = task;
  const { pose, u, body, placed, rows, push, equilibrium } = look;
  pressCells(stack, rows.distanceMm, mask, push);
  timesArea(body.areaMm2, push.pressureMPa, push.forceN);
  timesArea(body.areaMm2, push.tangent, push.stiffness);
  assembleEquilibrium(body, placed, rows, mask, stack, loads, pose, equilibrium, push);
  look.bent = 0;
  const turn = Float64Array.from(rotationOf(pose));
  bars.forEach((bar, side) => {
    const gradient = look.gradients[side]!;
    multiplyBand(bar.stiffness, u[side]!, gradient);
    look.bent += 0.5 * dot(u[side]!, gradient);
    const { from } = body.bars[side]!;
    const n = bar.grid.rows * bar.grid.columns;
    towardsBar(push.forceN, rows.normal, turn, bar.mirror, from, n, -1, scratch);
    addCellForces(bar.grid, scratch, 3 * from, gradient);
  });
  look.energy = equilibrium.energy + look.bent;
}

/** Loops over all cells take arrays and numbers only; see sum-cells.ts for why. */
function flipY(points: Float64Array, from: number, to: number): void {
  for (let i = from + 1; i < to; i += 3) points[i] = -points[i]!;
}

function addUp(a: Float64Array, b: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = a[i]! + b[i]!;
}

function timesArea(areaMm2: Float64Array, value: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = areaMm2[i]! * value[i]!;
}

export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** out = sign S R^T (f n): forces along the back's normals in the bar's own frame, y outward. */
function towardsBar(
  force: Float64Array,
  normal: Float64Array,
  r: Float64Array,
  mirror: number,
  from: number,
  count: number,
  sign: number,
  out: Float64Array,
): void {
  for (let i = from; i < from + count; i++) {
    const f = sign * force[i]!;
    const j = 3 * i;
    if (f === 0) {
      out[j] = 0;
      out[j + 1] = 0;
      out[j + 2] = 0;
      continue;
    }
    const [x, y, z] = [normal[j]!, normal[j + 1]!, normal[j + 2]!];
    out[j] = f * (r[0]! * x + r[3]! * y + r[6]! * z);
    out[j + 1] = mirror * f * (r[1]! * x + r[4]! * y + r[7]! * z);
    out[j + 2] = f * (r[2]! * x + r[5]! * y + r[8]! * z);
  }
}
