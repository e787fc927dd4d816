import { type BandMatrix, createBand, factorBand, multiplyBand, solveBand } from '../numeric/index.ts';
import { addCellForces, addCellStiffness, type CellGrid, displaceCells } from './cell-grid.ts';

/** A shell held by its own supports on a bed of one-sided springs that push along fixed directions. N, mm. */
export interface SpringBed {
  readonly grid: CellGrid;
  /** Per cell: area (mm2), direction towards the bed (3, unit), and squeeze before the shell moves (mm, negative where clear). */
  readonly areaMm2: Float64Array;
  readonly towards: Float64Array;
  readonly squeezeMm: Float64Array;
  /** N/mm3. */
  readonly stiffness: number;
  /** Springs also pull: for comparison with two-sided closed forms. */
  readonly twoSided?: boolean;
}

export interface PressedShell {
  readonly u: Float64Array;
  /** Squeeze of every cell, mm. */
  readonly squeezeMm: Float64Array;
  /** Force of the bed on the shell, N. */
  readonly forceN: readonly [number, number, number];
  /** Unbalanced force over the sum of all forces. */
  readonly residual: number;
  readonly rounds: number;
}

const MOST_ROUNDS = 60;

/**
 * Balances a supported shell between the bed and forces on its unknowns: Newton over who presses, until nobody changes
 * sides. For comparison with closed forms and outside programs; seating/seat-flexible.ts does the same on a back.
 * @param stiffness supports included; left as it is
 * @throws RangeError where the supports leave the shell free to move
 */
export function pressShell(stiffness: BandMatrix, bed: SpringBed | null, forces: Float64Array): PressedShell {
  const u = new Float64Array(stiffness.n);
  const cells = bed === null ? 0 : bed.areaMm2.length;
  const moved = new Float64Array(3 * cells);
  const squeeze = new Float64Array(cells);
  let pressed = '';
  for (let round = 1; ; round++) {
    const k = createBand(stiffness.n, stiffness.halfWidth);
    k.data.set(stiffness.data);
    const rest = Float64Array.from(forces);
    if (bed !== null) addBedTerms(bed, u, moved, squeeze, k, rest);
    multiplyAway(stiffness, u, rest);
    if (!factorBand(k)) throw new RangeError('pressShell: the supports do not hold the shell');
    solveBand(k, rest);
    for (let i = 0; i < u.length; i++) u[i]! += rest[i]!;
    const now = bed === null ? 'none' : whoPresses(bed, u, moved, squeeze);
    if (now === pressed || round === MOST_ROUNDS) return report(stiffness, bed, forces, u, squeeze, round);
    pressed = now;
  }
}

function addBedTerms(
  bed: SpringBed,
  u: Float64Array,
  moved: Float64Array,
  squeeze: Float64Array,
  k: BandMatrix,
  rest: Float64Array,
): void {
  whoPresses(bed, u, moved, squeeze);
  const cellForce = new Float64Array(moved.length);
  const cellStiffness = new Float64Array(2 * moved.length);
  for (let i = 0; i < squeeze.length; i++) {
    if (!(squeeze[i]! > 0) && bed.twoSided !== true) continue;
    const ka = bed.stiffness * bed.areaMm2[i]!;
    const [x, y, z] = [bed.towards[3 * i]!, bed.towards[3 * i + 1]!, bed.towards[3 * i + 2]!];
    const f = ka * squeeze[i]!;
    cellForce.set([-f * x, -f * y, -f * z], 3 * i);
    cellStiffness.set([ka * x * x, ka * x * y, ka * x * z, ka * y * y, ka * y * z, ka * z * z], 6 * i);
  }
  addCellForces(bed.grid, cellForce, 0, rest);
  addCellStiffness(bed.grid, cellStiffness, 0, k);
}

/** Fills the squeeze of every cell and answers who presses, as a key. */
function whoPresses(bed: SpringBed, u: Float64Array, moved: Float64Array, squeeze: Float64Array): string {
  displaceCells(bed.grid, u, moved);
  let key = '';
  for (let i = 0; i < squeeze.length; i++) {
    const t = bed.towards;
    squeeze[i] =
      bed.squeezeMm[i]! +
      moved[3 * i]! * t[3 * i]! +
      moved[3 * i + 1]! * t[3 * i + 1]! +
      moved[3 * i + 2]! * t[3 * i + 2]!;
    key += squeeze[i]! > 0 ? '1' : '0';
  }
  return key;
}

function multiplyAway(stiffness: BandMatrix, u: Float64Array, rest: Float64Array): void {
  const own = new Float64Array(u.length);
  multiplyBand(stiffness, u, own);
  for (let i = 0; i < u.length; i++) rest[i]! -= own[i]!;
}

function report(
  stiffness: BandMatrix,
  bed: SpringBed | null,
  forces: Float64Array,
  u: Float64Array,
  squeeze: Float64Array,
  rounds: number,
): PressedShell {
  const rest = Float64Array.from(forces);
  const force: [number, number, number] = [0, 0, 0];
  let all = forces.reduce((sum, f) => sum + Math.abs(f), 0);
  if (bed !== null) {
    const cellForce = new Float64Array(3 * squeeze.length);
    for (let i = 0; i < squeeze.length; i++) {
      const f = bed.twoSided === true ? squeeze[i]! : Math.max(0, squeeze[i]!);
      for (let a = 0; a < 3; a++) {
        cellForce[3 * i + a] = -f * bed.stiffness * bed.areaMm2[i]! * bed.towards[3 * i + a]!;
        force[a]! += cellForce[3 * i + a]!;
      }
    }
    all += Math.hypot(...force);
    addCellForces(bed.grid, cellForce, 0, rest);
  }
  multiplyAway(stiffness, u, rest);
  return { u, squeezeMm: squeeze, forceN: force, residual: Math.hypot(...rest) / Math.max(all, 1e-12), rounds };
}
