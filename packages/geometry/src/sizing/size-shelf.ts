import type { BackSurface } from '../back/index.ts';
import { createCaseBacks } from '../motion/index.ts';
import type { PatternDocument } from '../pattern/index.ts';
import type { Setup } from '../seating/index.ts';
import type { Rider } from './rider-schema.ts';
import { SEAT_TABLE_SOURCE, type SeatRange, seatRange } from './seat-range.ts';
import { listChoices, type Shelf } from './shelf-schema.ts';
import { type SizeCell, sizeCell } from './size-cell.ts';
import { needsOf, reasonAgainst } from './size-reasons.ts';

export interface SizeInput {
  readonly rider: Rider;
  readonly shelf: Shelf;
  /** The pattern that the shelf names. */
  readonly pattern: PatternDocument;
  /** As the horse stood. */
  readonly back: BackSurface;
  readonly setup: Setup;
}

/** A cell with what became of it. */
export interface SizeRow extends SizeCell {
  readonly isInSeatRange: boolean;
  /** Why this tree was not taken; null for the one that was. */
  readonly reason: string | null;
}

export interface SizeResult {
  readonly seatRange: SeatRange & { readonly source: string };
  readonly rows: readonly SizeRow[];
  /** Index of the closest tree of the rider's seats; null when nothing on this shelf is near this back. */
  readonly closest: number | null;
  /** What this back and rider would need, where nothing on the shelf is near; else empty. */
  readonly needed: readonly string[];
}

/** A tree whose worst finding is more than so many times its rule is not called near (our own judgement, no source). */
export const NEAR_RATIO = 2;

/** Two trees whose worst findings differ by less are told apart by pressure. */
const SAME_RATIO = 0.02;

/**
 * Settles every tree of a shelf, one after the other: yields each as it is done, and returns the answer at the end. Each
 * tree is settled from scratch, so that its numbers are those of `fit` and no order changes them. The closest of the
 * rider's seats is found; whether anybody may ride is not a question this answers.
 */
export function* sizeShelf({ rider, shelf, pattern, back, setup }: SizeInput): Generator<SizeCell, SizeResult> {
  const range = seatRange(rider.massKg, rider.thigh, shelf.seatTable);
  const backs = createCaseBacks(back);
  const cells: SizeCell[] = [];
  for (const choice of listChoices(shelf, pattern)) {
    const cell = sizeCell(choice, back, backs, setup, shelf, rider);
    cells.push(cell);
    yield cell;
  }
  const closest = closestOf(cells.filter((cell) => isInRange(cell, range)));
  const near = closest !== null && ratioOf(closest) <= NEAR_RATIO ? closest : null;
  const rows = cells.map((cell): SizeRow => {
    const inRange = isInRange(cell, range);
    const reason = cell === near ? null : reasonAgainst(cell, { range, isInRange: inRange, taken: near });
    return { ...cell, isInSeatRange: inRange, reason };
  });
  return {
    seatRange: { ...range, source: SEAT_TABLE_SOURCE },
    rows,
    closest: near === null ? null : cells.indexOf(near),
    needed: near === null ? needsOf(closest ?? closestOf(cells)!, range) : [],
  };
}

const MM_PER_IN = 25.4;
const HALF_SIXTEENTH_MM = 0.8;

const isInRange = ({ seatMm }: SizeCell, { fromIn, toIn }: SeatRange): boolean =>
  seatMm >= fromIn * MM_PER_IN - HALF_SIXTEENTH_MM && seatMm <= toIn * MM_PER_IN + HALF_SIXTEENTH_MM;

const ratioOf = ({ worst, cases }: SizeCell): number =>
  cases.some(({ status }) => status !== 'settled') ? Number.POSITIVE_INFINITY : (worst?.ratio ?? 0);

const pressureOf = ({ cases }: SizeCell): number => Math.max(...cases.map(({ p95PressureKPa }) => p95PressureKPa));

/** Least over its rules; of equals the one that presses least, and of those the first by seat, width and tip. */
function closestOf(cells: readonly SizeCell[]): SizeCell | null {
  return cells.reduce<SizeCell | null>((best, cell) => {
    if (best === null) return cell;
    const by = ratioOf(cell) - ratioOf(best);
    if (Math.abs(by) > SAME_RATIO) return by < 0 ? cell : best;
    return pressureOf(cell) < pressureOf(best) ? cell : best;
  }, null);
}
