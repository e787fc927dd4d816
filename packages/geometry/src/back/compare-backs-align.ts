import { downhillStep } from '../numeric/index.ts';
import type { BackSurface } from './back-surface.ts';
import type { KeepOut } from './compare-backs.ts';

/** A small motion of the later back: shifts, then pitch and roll about the middle of the compared stretch. */
export interface BackMotion {
  readonly backwardMm: number;
  readonly rightMm: number;
  readonly upMm: number;
  /** + front up. */
  readonly pitchDeg: number;
  /** + right side up. */
  readonly rollDeg: number;
  /** Root mean square difference, at right angles to the surface, over the half that agrees best, mm. NaN without a fit. */
  readonly residualMm: number;
  /** True when a shift or an angle came to rest against its bound: the two may not be one horse. */
  readonly atBound: boolean;
  /** Height of the moved later back over a place of the horse frame, mm. */
  heightMm(after: BackSurface, x: number, y: number): number;
}

export const NO_MOTION: BackMotion = Object.freeze({
  ...{ backwardMm: 0, rightMm: 0, upMm: 0, pitchDeg: 0, rollDeg: 0, residualMm: Number.NaN, atBound: false },
  heightMm: (after: BackSurface, x: number, y: number) => after.heightMm(x, y),
});

/** Two sets of landmarks of one horse agree this well, or somebody is mistaken. */
const MOST_SHIFT_MM = 30;
const MOST_TURN_DEG = 4;
/** A half is kept: whatever changed, even a whole side up to that, does not pull the rest after it. */
const KEPT_SHARE = 0.5;
const ROUNDS = 40;
const GRID_MM = 12;
const INNERMOST_MM = 20;
const OUTERMOST_MM = 200;
/** Shifts along a back that is straight there are hardly determined: held by a weak spring, as if to within this, mm. */
const LOOSE_MM = 20;
/** Angles count as so many millimetres. */
const LEVER_MM = 200;
/** A half that agrees this well has nothing better to find. */
const AGREES_MM = 0.05;
/** Weights run down to the kept half over this many rounds, so that the first rounds see the whole. */
const EASING_ROUNDS = 8;

/** Backward, right, up in mm; pitch and roll in LEVER_MM radians. */
type Unknowns = readonly number[];

/**
 * Lays the later back on the earlier one by least trimmed squares: Gauss-Newton on differences at right angles to the
 * surface, over the grid points that agree best, keepOut left out.
 *
 * Trimmed squares have more than one resting place. One descent sees the whole first, which undoes wrong landmarks; one
 * keeps to the half that agrees from the start, which leaves a change where it is when the landmarks are right. The one
 * with the smaller residual counts.
 */
export function alignBacks(
  before: BackSurface,
  after: BackSurface,
  endX: number,
  keepOut: readonly KeepOut[],
): BackMotion {
  const middleX = endX / 2;
  const places = placesOn(before, gridOf(endX, keepOut), middleX);
  const steady = descend(after, places, middleX, 0);
  const eased = steady.residualMm < AGREES_MM ? steady : descend(after, places, middleX, EASING_ROUNDS);
  const rest = eased.residualMm < steady.residualMm ? eased : steady;
  const { motion, residualMm, atBound } = rest;
  const [backwardMm, rightMm, upMm, pitch, roll] = motion as [number, number, number, number, number];
  const deg = (value: number): number => (value / LEVER_MM) * (180 / Math.PI);
  return {
    ...{ backwardMm, rightMm, upMm, pitchDeg: deg(pitch), rollDeg: deg(roll), residualMm, atBound },
    heightMm: (back, x, y) => movedHeight(back, x, y, middleX, motion),
  };
}

interface Rest {
  readonly motion: Unknowns;
  /** NaN where too little is in common. */
  readonly residualMm: number;
  readonly atBound: boolean;
}

function descend(after: BackSurface, places: readonly Place[], middleX: number, easingRounds: number): Rest {
  let motion: Unknowns = [0, 0, 0, 0, 0];
  let residualMm = Number.NaN;
  let atBound = false;
  for (let round = 0; round < ROUNDS; round++) {
    const rows = differences(after, places, middleX, motion);
    const share = Math.max(KEPT_SHARE, 1 - (1 - KEPT_SHARE) * ((round + 1) / Math.max(1, easingRounds)));
    const kept = rows.slice(0, Math.ceil(share * rows.length));
    if (kept.length < 20) break;
    residualMm = Math.sqrt(kept.reduce((sum, row) => sum + row.offMm ** 2, 0) / kept.length);
    const step = gaussNewton(kept, motion);
    const next = motion.map((value, i) => value + step[i]!);
    const bounded = next.map((value, i) => clamp(value, i < 3 ? MOST_SHIFT_MM : bound()));
    atBound = bounded.some((value, i) => value !== next[i]);
    motion = bounded;
    if (round > easingRounds && Math.hypot(...step) < 1e-4) break;
  }
  return { motion, residualMm, atBound };
}

const bound = (): number => (MOST_TURN_DEG * Math.PI * LEVER_MM) / 180;
const clamp = (value: number, most: number): number => Math.max(-most, Math.min(most, value));

function gridOf(endX: number, keepOut: readonly KeepOut[]): [number, number][] {
  const places: [number, number][] = [];
  for (let x = 0; x <= endX; x += GRID_MM) {
    for (let across = INNERMOST_MM; across <= OUTERMOST_MM; across += GRID_MM) {
      for (const y of [-across, across]) {
        const isOut = keepOut.some((k) => x >= k.fromXMm && x <= k.toXMm && y >= k.fromYMm && y <= k.toYMm);
        if (!isOut) places.push([x, y]);
      }
    }
  }
  return places;
}

/**
 * Height of the moved back: the place is carried back by the motion, the height there carried forward. Small angles are
 * taken as slopes; at 4 degrees and 100 mm of height that is off by 0.3 mm sideways.
 */
function movedHeight(after: BackSurface, x: number, y: number, middleX: number, m: Unknowns): number {
  const [pitch, roll] = [m[3] / LEVER_MM, m[4] / LEVER_MM];
  const flat = after.heightMm(x - m[0], y - m[1]);
  // Turning carries a point at height z by pitch z along and roll z across.
  const z = after.heightMm(x - m[0] - pitch * flat, y - m[1] + roll * flat);
  return z + m[2] - pitch * (x - middleX) + roll * y;
}

/** A place of the earlier back with its slopes, taken once. */
interface Place {
  readonly x: number;
  readonly y: number;
  readonly slopeX: number;
  readonly slopeY: number;
  readonly cos: number;
  readonly fromMiddle: number;
  readonly height: number;
}

interface Row extends Place {
  /** Later minus earlier, at right angles to the earlier surface. */
  readonly offMm: number;
}

function placesOn(before: BackSurface, grid: readonly [number, number][], middleX: number): Place[] {
  const h = 2;
  return grid.map(([x, y]) => {
    const height = before.heightMm(x, y);
    const slopeX = (before.heightMm(x + h, y) - before.heightMm(x - h, y)) / (2 * h);
    const slopeY = (before.heightMm(x, y + h) - before.heightMm(x, y - h)) / (2 * h);
    const cos = 1 / Math.sqrt(1 + slopeX * slopeX + slopeY * slopeY);
    return { x, y, slopeX, slopeY, cos, fromMiddle: x - middleX, height };
  });
}

function differences(after: BackSurface, places: readonly Place[], middleX: number, motion: Unknowns): Row[] {
  return places
    .map((place) => ({
      ...place,
      offMm: place.cos * (movedHeight(after, place.x, place.y, middleX, motion) - place.height),
    }))
    .filter(({ offMm }) => !Number.isNaN(offMm))
    .sort((a, b) => Math.abs(a.offMm) - Math.abs(b.offMm));
}

function gaussNewton(rows: readonly Row[], motion: Unknowns): number[] {
  const h = new Float64Array(25);
  const g = new Float64Array(5);
  for (const { y, offMm, slopeX, slopeY, cos, fromMiddle, height } of rows) {
    const slopes = [
      -slopeX * cos,
      -slopeY * cos,
      cos,
      (cos * (-fromMiddle - slopeX * height)) / LEVER_MM,
      (cos * (y + slopeY * height)) / LEVER_MM,
    ];
    for (let r = 0; r < 5; r++) {
      g[r] += slopes[r] * offMm;
      for (let c = 0; c < 5; c++) h[5 * r + c] += slopes[r] * slopes[c];
    }
  }
  // The spring weighs as one row in a thousand: it settles only what the surface leaves open.
  const spring = (rows.length * 1e-3) / LOOSE_MM ** 2;
  for (const i of [0, 1]) {
    h[6 * i] += spring;
    g[i] += spring * motion[i];
  }
  return downhillStep(h, g, 5, 1e-9 * rows.length);
}
