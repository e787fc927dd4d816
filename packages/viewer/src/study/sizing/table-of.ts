import { FINDING_WORDS, type SeatRange, type SizeCell } from '@barwright/geometry';
import { SIZING_TEXTS } from '../../look/texts/sizing.ts';
import type { SizingBegun, SizingChoice, SizingPart } from './sizing-service.ts';

/** One tree of the table, with what is known of it so far. */
export interface ShownTree {
  readonly id: string;
  readonly choice: SizingChoice;
  readonly cell: SizeCell | null;
  /** Why it is not the closest; null before its part of the shelf is done, and for the closest. */
  readonly reason: string | null;
  readonly isClosest: boolean;
}

export type SizingAnswer =
  | { readonly kind: 'closest'; readonly tree: ShownTree; readonly of: number }
  | { readonly kind: 'none'; readonly needed: readonly string[]; readonly hasSeats: boolean };

export interface SizingTable {
  readonly range: SeatRange;
  /** Rider's seats first, each with its trees in the order of the columns. */
  readonly rows: readonly {
    readonly seat: string;
    readonly isInSeatRange: boolean;
    readonly trees: readonly ShownTree[];
  }[];
  readonly widths: readonly string[];
  readonly tips: readonly string[];
  readonly answer: SizingAnswer | null;
}

const idOf = ({ seat, width, tip }: SizingChoice): string => `${seat}, ${width}, ${tip}`;

/** The table as far as it has come. Cells and answers arrive in the order of the choices. */
export function tableOf({ choices, range }: SizingBegun, parts: readonly SizingPart[]): SizingTable {
  const cells = parts.flatMap((part) => (part.kind === 'cell' ? [part.cell] : []));
  const ends = parts.filter((part) => part.kind === 'rows');
  const reasons = ends.flatMap(({ result }) => result.rows.map(({ reason }) => reason));
  const [first] = ends;
  const closest = first?.result.closest ?? null;
  const trees = choices.map(
    (choice, i): ShownTree => ({
      id: idOf(choice),
      choice,
      cell: cells[i] ?? null,
      reason: reasons[i] ?? null,
      isClosest: i === closest,
    }),
  );
  const seats = [...new Set(choices.map(({ seat }) => seat))];
  return {
    range,
    rows: seats.map((seat) => {
      const own = trees.filter(({ choice }) => choice.seat === seat);
      return { seat, isInSeatRange: own[0]!.choice.isInSeatRange, trees: own };
    }),
    widths: [...new Set(choices.map(({ width }) => width))],
    tips: [...new Set(choices.map(({ tip }) => tip))],
    answer: first === undefined ? null : answerOf(first, trees),
  };
}

function answerOf(
  { isRidersSeats, result }: Extract<SizingPart, { kind: 'rows' }>,
  trees: readonly ShownTree[],
): SizingAnswer {
  if (result.closest === null) return { kind: 'none', needed: result.needed, hasSeats: isRidersSeats };
  return { kind: 'closest', tree: trees[result.closest]!, of: result.rows.length };
}

export interface Worst {
  readonly words: string;
  /** Times its rule; null where there is nothing to compare. */
  readonly ratio: number | null;
  readonly inCase: string | null;
}

/** What a tree shows at its worst, in the words of the findings. */
export function worstOf({ cases, worst }: SizeCell): Worst {
  const off = cases.find(({ status }) => status !== 'settled');
  if (off !== undefined) return { words: SIZING_TEXTS.tree.noResult(off.status), ratio: null, inCase: off.name };
  if (worst === null) return { words: SIZING_TEXTS.tree.noFinding, ratio: null, inCase: null };
  return { words: FINDING_WORDS[worst.code], ratio: worst.ratio, inCase: worst.inCase };
}

/** The tree to look at first: of the rider's seats, or of all where none is done, the one least over its rules. */
export function leastOver(trees: readonly ShownTree[]): ShownTree | null {
  const done = trees.filter(({ cell }) => cell !== null);
  const own = done.filter(({ choice }) => choice.isInSeatRange);
  const over = ({ cell }: ShownTree): number => {
    const { ratio, inCase } = worstOf(cell!);
    return ratio ?? (inCase === null ? 0 : Number.POSITIVE_INFINITY);
  };
  return (own.length > 0 ? own : done).reduce<ShownTree | null>(
    (best, tree) => (best === null || over(tree) < over(best) ? tree : best),
    null,
  );
}

export const mostP95 = ({ cases }: SizeCell): number => Math.max(...cases.map(({ p95PressureKPa }) => p95PressureKPa));

export const seatRangeWords = ({ fromIn, toIn, isBeyondTable }: SeatRange): string =>
  SIZING_TEXTS.answer[isBeyondTable ? 'rangeBeyond' : 'range'](trim(fromIn), trim(toIn));

const trim = (value: number): string => String(Number(value.toFixed(2)));
