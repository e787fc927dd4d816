import {
  type FitResult,
  fitTree,
  InputError,
  type InputErrorDetails,
  type PatternDocument,
  putLegsForward,
  readPattern,
  readSetup,
  type Setup,
} from '@barwright/geometry';
import type { OpenedBack } from '../../state/documents.ts';
import { benchOf } from '../shoulder/bench-of.ts';
import type { Begun, Step } from '../sizing/step-run.ts';

/** A horse to seat the tree on. */
export interface HorseInput {
  readonly backId: number;
  readonly back: OpenedBack;
}

/** One horse's figures, or why there are none. */
export interface HorseRow {
  readonly backId: number;
  readonly result: FitResult | null;
  readonly refusal: InputErrorDetails | null;
}

interface Going {
  readonly id: number;
  readonly pattern: PatternDocument;
  readonly setup: Setup;
  readonly horses: readonly HorseInput[];
  done: number;
}

let going: Going | null = null;
let lastId = 0;

/** The fit of one pattern on one horse, as everywhere: fitTree from scratch, causes left out. */
export async function horseRow(pattern: PatternDocument, setup: Setup, horse: HorseInput): Promise<HorseRow> {
  const { backId } = horse;
  try {
    const { tree, standing } = await benchOf({ pattern, setup, ...horse });
    const { result } = fitTree(tree, putLegsForward(standing, setup.legForward), setup, { detail: 'findings' });
    return { backId, result, refusal: null };
  } catch (error) {
    // One horse that can't be read leaves the others their rows.
    if (error instanceof InputError) return { backId, result: null, refusal: error.details };
    throw error;
  }
}

export const horsesService = {
  horsesBegin(pattern: PatternDocument, setup: Setup, horses: readonly HorseInput[]): Begun {
    going = { id: ++lastId, pattern: readPattern(pattern), setup: readSetup(setup), horses, done: 0 };
    return { id: going.id, total: horses.length };
  },

  /** The next horse; null where another run has taken its place. */
  async horsesNext(id: number): Promise<Step<HorseRow> | null> {
    const run = going;
    if (run?.id !== id) return null;
    const horse = run.horses[run.done];
    if (horse === undefined) return { done: run.done, isEnd: true, parts: [] };
    const row = await horseRow(run.pattern, run.setup, horse);
    run.done++;
    return { done: run.done, isEnd: run.done === run.horses.length, parts: [row] };
  },
};
