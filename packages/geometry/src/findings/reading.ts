import {
  type ContactFigures,
  contactFigures,
  type Mismatch,
  measureMismatch,
  type Rules,
  type SeatedTree,
  type SpineClearance,
  spineClearance,
} from '../seating/index.ts';

/** One tree settled and laid on, with the figures that findings read, each worked out at most once. */
export interface Reading {
  readonly seated: SeatedTree;
  readonly laidOn: SeatedTree;
  readonly rules: Rules;
  readonly contact: ContactFigures;
  readonly mismatch: Mismatch;
  readonly spine: SpineClearance;
}

export function readTree(seated: SeatedTree, laidOn: SeatedTree): Reading {
  let contact: ContactFigures | null = null;
  let mismatch: Mismatch | null = null;
  let spine: SpineClearance | null = null;
  return {
    seated,
    laidOn,
    rules: seated.setup.rules,
    get contact() {
      contact ??= contactFigures(seated);
      return contact;
    },
    get mismatch() {
      mismatch ??= measureMismatch(laidOn);
      return mismatch;
    },
    get spine() {
      spine ??= spineClearance(seated);
      return spine;
    },
  };
}

/** Squeeze of the layers at a cell, mm: negative where it is clear, NaN without data. */
export function squeezeMm({ seat, stack }: SeatedTree, cell: number): number {
  return seat.mask[cell] === 0 ? Number.NaN : stack.thicknessMm - seat.rows.distanceMm[cell]!;
}
