import { type HowSure, howSure } from '@barwright/geometry';
import { benchOf, type OnBench } from '../shoulder/bench-of.ts';
import { runFor } from '../sizing/run-for.ts';
import type { Begun, Step } from '../sizing/step-run.ts';
import type { SureWish } from './sure-wish.ts';

let going: { readonly id: number; readonly steps: Generator<number, HowSure> } | null = null;
let lastId = 0;

export const sureService = {
  async sureBegin(on: OnBench, wish: SureWish): Promise<Begun> {
    const { tree, standing } = await benchOf(on);
    going = { id: ++lastId, steps: howSure(tree, standing, on.setup, wish) };
    return { id: going.id, total: wish.draws };
  },

  /** Some more draws; the answer at the end; null where another run has taken its place. */
  sureNext(id: number): Step<HowSure> | null {
    return going?.id === id ? runFor(going.steps) : null;
  },
};
