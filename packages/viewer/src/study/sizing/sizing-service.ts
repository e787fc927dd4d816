import {
  listChoices,
  readPattern,
  readQuantity,
  readRider,
  readShelf,
  type SeatRange,
  type Shelf,
  type ShelfChoice,
  type SizeCell,
  type SizeInput,
  type SizeResult,
  type SizeRow,
  seatRange,
  sizeShelf,
} from '@barwright/geometry';
import { benchOf, type OnBench } from '../shoulder/bench-of.ts';
import type { Begun, Step } from './step-run.ts';

/** A shelf as it was opened, with the pattern that it names. */
export interface OpenedShelf {
  readonly json: unknown;
  readonly pattern: unknown;
  readonly fileName: string;
}

export type SizingChoice = Omit<ShelfChoice, 'pattern'> & { readonly isInSeatRange: boolean };

export interface SizingBegun extends Begun {
  readonly range: SeatRange;
  /** The rider's seats first, then the others, each in the shelf's order. */
  readonly choices: readonly SizingChoice[];
}

/** A tree as it was settled, or a part of the shelf when all of it is. */
export type SizingPart =
  | { readonly kind: 'cell'; readonly cell: SizeCell }
  | { readonly kind: 'rows'; readonly isRidersSeats: boolean; readonly result: SizeResult };

interface Part {
  readonly isRidersSeats: boolean;
  readonly steps: Generator<SizeCell, SizeResult>;
}

interface Going {
  readonly id: number;
  parts: readonly Part[];
  done: number;
}

let going: Going | null = null;
let lastId = 0;

const MM_PER_IN = 25.4;
/** As sizeShelf reads a seat: within half a sixteenth. */
const HALF_SIXTEENTH_MM = 0.8;

const seatMm = (seat: number | string): number => readQuantity(seat, { field: 'seats', unit: 'in' });
const isWithin = (mm: number, { fromIn, toIn }: SeatRange): boolean =>
  mm >= fromIn * MM_PER_IN - HALF_SIXTEENTH_MM && mm <= toIn * MM_PER_IN + HALF_SIXTEENTH_MM;

/**
 * Sizes the seats that the rider would be put on first, then the rest: only the first can be the closest, and no order
 * changes a number. A shelf without such a seat goes as one, for the sake of what would be needed.
 */
export const sizingService = {
  async sizingBegin(on: OnBench, riderJson: unknown, opened: OpenedShelf): Promise<SizingBegun> {
    const rider = readRider(riderJson);
    const shelf = readShelf(opened.json, opened.fileName);
    const pattern = readPattern(opened.pattern, shelf.pattern);
    const { standing: back } = await benchOf(on);
    const range = seatRange(rider.massKg, rider.thigh, shelf.seatTable);
    const [own, other] = [true, false].map((wanted) => ({
      ...shelf,
      seats: shelf.seats.filter((seat) => isWithin(seatMm(seat), range) === wanted),
    })) as [Shelf, Shelf];
    const steps = (part: Shelf): Part['steps'] =>
      sizeShelf({ rider, shelf: part, pattern, back, setup: on.setup } satisfies SizeInput);
    const parts: Part[] = [];
    if (own.seats.length > 0) parts.push({ isRidersSeats: true, steps: steps(own) });
    if (other.seats.length > 0) parts.push({ isRidersSeats: false, steps: steps(other) });
    const choices = [own, other].flatMap((part) =>
      listChoices(part, pattern).map(
        ({ pattern: _, ...choice }): SizingChoice => ({ ...choice, isInSeatRange: isWithin(choice.seatMm, range) }),
      ),
    );
    going = { id: ++lastId, parts, done: 0 };
    return { id: going.id, total: choices.length, range, choices };
  },

  /** The next tree, with the answer of its part when it was the last; null where another run has taken its place. */
  sizingNext(id: number): Step<SizingPart> | null {
    if (going?.id !== id) return null;
    const [part, ...rest] = going.parts;
    if (part === undefined) return { done: going.done, isEnd: true, parts: [] };
    const next = part.steps.next();
    if (next.done !== true) {
      going.done++;
      return { done: going.done, isEnd: false, parts: [{ kind: 'cell', cell: next.value }] };
    }
    going.parts = rest;
    const { isRidersSeats } = part;
    return {
      done: going.done,
      isEnd: rest.length === 0,
      parts: [{ kind: 'rows', isRidersSeats, result: next.value }],
    };
  },
};

export type { SizeRow };
