import { createHeightJet, type Tree, treeLengthMm, type Underside } from '../bar/index.ts';
import { InputError } from '../numeric/index.ts';

/** How two trees are laid into one frame lengthwise: by their front tip edges or by the low points of their rock. */
export type TakeOffAlign = 'front tips' | 'low points';

export interface TakeOffOptions {
  readonly align: TakeOffAlign;
  /** How much higher into the wood the wanted underside is laid, mm, >= 0: what has to be added gets less by it. */
  readonly raiseMm?: number;
  /** Nodes from tip to tip and from edge to edge. */
  readonly rows?: number;
  readonly columns?: number;
}

/** One bar's underside as it is carved, as a grid of nodes: rows x columns, row-major from the front tip, inner edge to outer. */
export interface TakeOffBar {
  readonly side: 'left' | 'right';
  readonly rows: number;
  readonly columns: number;
  /** From the carved bar's front tip edge, mm, one per row. */
  readonly bMm: Float64Array;
  /** -1 inner edge .. +1 outer edge, one per column. */
  readonly t: Float64Array;
  /** The underside unrolled: length along the bearing line from the front tip, mm, one per row. */
  readonly alongMm: Float64Array;
  /** Length across the underside from the bearing line, + outward, mm, one per node. */
  readonly acrossMm: Float64Array;
  /** Square to the carved underside: + wood to remove, - wood that would have to be added; NaN where the wanted bar has none. mm */
  readonly depthMm: Float64Array;
  readonly removeMm3: number;
  readonly addMm3: number;
  /** Greatest depth and greatest addition, mm, both >= 0. */
  readonly deepestMm: number;
  readonly mostAddedMm: number;
  /** Seen from above: carved beyond the wanted outline (cut away whole), and wanted beyond the carved one (no wood there). mm2 */
  readonly cutAwayMm2: number;
  readonly lackingMm2: number;
}

export interface TakeOff {
  readonly align: TakeOffAlign;
  readonly raiseMm: number;
  /** The least raise at which no node of either bar lacks wood, mm. */
  readonly raiseForNoneAddedMm: number;
  readonly left: TakeOffBar;
  readonly right: TakeOffBar;
}

const STEPS = 12;
/** mm */
const NEAR = 1e-9;
const DEFAULT_ROWS = 161;
const DEFAULT_COLUMNS = 33;

/**
 * The wood between two undersides: what is carved and what is wanted, laid together with both low points of the bearing line
 * at one height and the midplanes on each other. Depths are square to the carved underside, in mm, found where its normal
 * meets the wanted one; volumes are those between the two height fields over the plan that both cover (trapezoid rule).
 * @throws InputError 'out-of-range' where `raiseMm` is negative or not a number
 */
export function takeOff(carved: Tree, wanted: Tree, options: TakeOffOptions): TakeOff {
  const { align, raiseMm = 0 } = options;
  if (!(raiseMm >= 0)) throw refusedRaise(raiseMm);
  const shift = shiftOf(carved, wanted, align);
  const bar = (side: 'left' | 'right'): Measured =>
    barTakeOff(side, { from: carved[side], to: wanted[side], shift, raiseMm, lengthMm: treeLengthMm(carved) }, options);
  const [left, right] = [bar('left'), bar('right')];
  return {
    align,
    raiseMm,
    raiseForNoneAddedMm: raiseMm + Math.max(0, left.lackMm, right.lackMm),
    left: left.bar,
    right: right.bar,
  };
}

/**
 * The depth at one place of the carved bar, as in the map: b from its front tip edge, mm, and t -1 inner edge .. +1 outer edge. NaN
 * where the wanted bar has no wood, or past the carved bar's tips.
 */
export function takeOffAt(
  carved: Tree,
  wanted: Tree,
  place: { readonly side: 'left' | 'right'; readonly bMm: number; readonly t: number },
  { align, raiseMm = 0 }: TakeOffOptions,
): number {
  const { side, bMm, t } = place;
  if (bMm < 0 || bMm > treeLengthMm(carved)) return Number.NaN;
  const laid = { from: carved[side], to: wanted[side], shift: shiftOf(carved, wanted, align), raiseMm, lengthMm: 0 };
  const row = carved[side].row(bMm);
  const y = row.middleY[0] + t * row.outlineHalfWidthY;
  return Number.isNaN(riseAt(laid, bMm, y)) ? Number.NaN : depthAt(laid, bMm, y);
}

const shiftOf = (carved: Tree, wanted: Tree, align: TakeOffAlign): number =>
  align === 'low points' ? wanted.right.shape.rockLowPointMm - carved.right.shape.rockLowPointMm : 0;

/** Two undersides of one side; b on the wanted bar is b on the carved one plus `shift`. */
interface Laid {
  readonly from: Underside;
  readonly to: Underside;
  readonly shift: number;
  readonly raiseMm: number;
  readonly lengthMm: number;
}

interface Measured {
  readonly bar: TakeOffBar;
  /** Greatest height of wood that lacks, along z. */
  readonly lackMm: number;
}

function barTakeOff(side: 'left' | 'right', laid: Laid, options: TakeOffOptions): Measured {
  const { rows = DEFAULT_ROWS, columns = DEFAULT_COLUMNS } = options;
  const bMm = rowPlaces(laid.lengthMm, rows);
  const t = Float64Array.from({ length: columns }, (_, j) => -1 + (2 * j) / (columns - 1));
  const depthMm = new Float64Array(rows * columns);
  const dt = 2 / (columns - 1);
  const sums = { removeMm3: 0, addMm3: 0, deepestMm: 0, mostAddedMm: 0, cutAwayMm2: 0 };
  let lackMm = 0;
  for (let i = 0; i < rows; i++) {
    const row = laid.from.row(bMm[i]!);
    for (let j = 0; j < columns; j++) {
      const y = row.middleY[0] + t[j]! * row.outlineHalfWidthY;
      const plan = share(bMm, i) * dt * row.outlineHalfWidthY * end(j, columns);
      const rise = riseAt(laid, bMm[i]!, y);
      const depth = Number.isNaN(rise) ? Number.NaN : depthAt(laid, bMm[i]!, y);
      depthMm[i * columns + j] = depth;
      if (Number.isNaN(rise)) {
        sums.cutAwayMm2 += plan;
        continue;
      }
      lackMm = Math.max(lackMm, -rise);
      sums.removeMm3 += plan * Math.max(0, rise);
      sums.addMm3 += plan * Math.max(0, -rise);
      if (depth > sums.deepestMm) sums.deepestMm = depth;
      if (-depth > sums.mostAddedMm) sums.mostAddedMm = -depth;
    }
  }
  const bar = { side, rows, columns, bMm, t, depthMm, ...sums, ...unrolled(laid.from, bMm, t) };
  return { bar: { ...bar, lackingMm2: lackingArea(laid, rows, columns) }, lackMm };
}

/** Rows from tip to tip, close together where the corners are rounded. */
const rowPlaces = (lengthMm: number, rows: number): Float64Array =>
  Float64Array.from({ length: rows }, (_, i) => {
    const u = i / (rows - 1);
    return lengthMm * (u - (CLOSER / (2 * Math.PI)) * Math.sin(2 * Math.PI * u));
  });

/** At a tip rows stand at this much less than their mean distance. */
const CLOSER = 0.9;

/** Length that a row stands for in the trapezoid rule. */
const share = (bMm: Float64Array, i: number): number =>
  (bMm[Math.min(bMm.length - 1, i + 1)]! - bMm[Math.max(0, i - 1)]!) / 2;

/** Weight of the trapezoid rule between even places. */
const end = (i: number, count: number): number => (i === 0 || i === count - 1 ? 0.5 : 1);

/** Whether a bar has wood over this place of the plan. */
function covers(bar: Underside, b: number, y: number): boolean {
  if (b < -NEAR || b > bar.shape.lengthMm + NEAR) return false;
  const row = bar.row(b);
  return Math.abs(y - row.middleY[0]) <= row.outlineHalfWidthY + NEAR;
}

/** Wanted height less carved height at one place of the plan, mm; NaN outside the wanted outline. */
function riseAt({ from, to, shift, raiseMm }: Laid, b: number, y: number): number {
  if (!covers(to, b + shift, y)) return Number.NaN;
  const z = from.heightJet(from.row(b), y, createHeightJet()).z;
  return to.heightJet(to.row(b + shift), y, createHeightJet()).z + raiseMm - z;
}

/**
 * Newton along the carved underside's normal into the wood: d with z + d n_z = z_wanted(b + d n_b, y + d n_y). The wanted height
 * field goes on smoothly past its outline, so that a normal which leaves it by a hair still has its foot.
 */
function depthAt({ from, to, shift, raiseMm }: Laid, b: number, y: number): number {
  const jet = from.heightJet(from.row(b), y, createHeightJet());
  const stretch = Math.sqrt(1 + jet.zb * jet.zb + jet.zy * jet.zy);
  const [nb, ny, nz] = [-jet.zb / stretch, -jet.zy / stretch, 1 / stretch];
  const at = createHeightJet();
  let d = 0;
  for (let i = 0; i < STEPS; i++) {
    to.heightJet(to.row(b + shift + d * nb), y + d * ny, at);
    const miss = at.z + raiseMm - jet.z - d * nz;
    const step = miss / (nz - at.zb * nb - at.zy * ny);
    d += step;
    if (Math.abs(step) < NEAR) return d;
  }
  return Number.NaN;
}

/** Plan area of the wanted bar where the carved one has no wood, mm2. */
function lackingArea({ from, to, shift }: Laid, rows: number, columns: number): number {
  const bMm = rowPlaces(to.shape.lengthMm, rows);
  const dt = 2 / (columns - 1);
  let area = 0;
  for (let i = 0; i < rows; i++) {
    const b = bMm[i]!;
    const row = to.row(b);
    for (let j = 0; j < columns; j++) {
      const y = row.middleY[0] + (-1 + j * dt) * row.outlineHalfWidthY;
      if (!covers(from, b - shift, y)) area += share(bMm, i) * dt * row.outlineHalfWidthY * end(j, columns);
    }
  }
  return area;
}

/** The underside rolled flat from its bearing line: true lengths along that line and across every row. */
function unrolled(bar: Underside, bMm: Float64Array, t: Float64Array) {
  const alongMm = new Float64Array(bMm.length);
  const acrossMm = new Float64Array(bMm.length * t.length);
  let before: readonly [number, number, number] | null = null;
  for (let i = 0; i < bMm.length; i++) {
    const row = bar.row(bMm[i]!);
    const z = (y: number): number => bar.heightJet(row, y, createHeightJet()).z;
    const here = [bMm[i]!, row.bearingY[0], z(row.bearingY[0])] as const;
    if (before !== null)
      alongMm[i] = alongMm[i - 1]! + Math.hypot(here[0] - before[0], here[1] - before[1], here[2] - before[2]);
    before = here;
    for (let j = 0; j < t.length; j++) {
      const y = row.middleY[0] + t[j]! * row.outlineHalfWidthY;
      acrossMm[i * t.length + j] = lengthBetween(z, row.bearingY[0], y);
    }
  }
  return { alongMm, acrossMm };
}

const PIECES = 8;

/** Signed length of the section's line from y0 to y1 by chords, mm. */
function lengthBetween(z: (y: number) => number, y0: number, y1: number): number {
  const step = (y1 - y0) / PIECES;
  let sum = 0;
  for (let k = 0; k < PIECES; k++) sum += Math.hypot(step, z(y0 + (k + 1) * step) - z(y0 + k * step));
  return Math.sign(y1 - y0) * sum;
}

const refusedRaise = (got: number): InputError =>
  new InputError({
    code: 'out-of-range',
    field: 'raiseMm',
    got: String(got),
    expected: 'a length of 0 or more, mm',
    remedy: 'Raise the wanted underside into the wood, or not at all.',
  });
