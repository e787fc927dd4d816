import {
  type CoverRow,
  type CoverShift,
  coverTable,
  type GiveStudy,
  giveSteps,
  partsCount,
  putLegsForward,
  studyGive,
} from '@barwright/geometry';
import { benchOf, type OnBench } from '../shoulder/bench-of.ts';
import type { Begun, Step } from '../sizing/step-run.ts';

export interface GiveBegun extends Begun {
  /** Rows that the table of parts will have. */
  readonly parts: number;
}

let going: { readonly id: number; readonly steps: Generator<GiveStudy>; done: number } | null = null;
let lastId = 0;

/** The study is asked for row by row, each as a whole of what there is so far. */
export const giveService = {
  async giveBegin(on: OnBench): Promise<GiveBegun> {
    const { tree, standing } = await benchOf(on);
    const back = putLegsForward(standing, on.setup.legForward);
    going = { id: ++lastId, steps: studyGive(tree, back, on.setup), done: 0 };
    return { id: going.id, total: giveSteps(tree, on.setup), parts: partsCount(tree, on.setup) };
  },

  /** One more row; null where another run has taken its place. */
  giveNext(id: number): Step<GiveStudy> | null {
    if (going?.id !== id) return null;
    const next = going.steps.next();
    if (next.done !== true) going.done++;
    return { done: going.done, isEnd: next.done === true, parts: next.done === true ? [] : [next.value] };
  },

  /** The tree with its cover drawn in or let out by an amount of one's own, under the bench's own bars. */
  async giveCover(on: OnBench, shift: CoverShift): Promise<CoverRow> {
    const { tree, standing } = await benchOf(on);
    const back = putLegsForward(standing, on.setup.legForward);
    const flexible = { ...on.setup, flex: { ...on.setup.flex, bars: 'flexible' as const } };
    const [row] = coverTable(tree, back, flexible, [{ name: 'own', ...shift }]);
    return row!;
  },
};
