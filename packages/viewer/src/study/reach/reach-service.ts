import {
  CAUTIONS,
  drawReachMap,
  formatForce,
  loadNewtons,
  REACH_DEFAULTS,
  type Reach,
  reachOf,
  reachSentences,
  reachSteps,
} from '@barwright/geometry';
import { REACH_TEXTS } from '../../look/texts/reach.ts';
import { benchOf, type OnBench } from '../shoulder/bench-of.ts';
import { runFor } from '../sizing/run-for.ts';
import type { Begun, Step } from '../sizing/step-run.ts';

const T = REACH_TEXTS.sheet;

export interface ReachView {
  readonly reach: Reach;
  /** The sheet as it is printed. */
  readonly svg: string;
  readonly sentences: readonly string[];
}

let going: { readonly id: number; readonly steps: Generator<number, ReachView> } | null = null;
let lastId = 0;

export const reachService = {
  async reachBegin(on: OnBench, drawnOn: string): Promise<Begun> {
    const { tree, standing } = await benchOf(on);
    const { setup } = on;
    function* drawn(): Generator<number, ReachView> {
      const reach = yield* reachOf(tree, standing, setup);
      const svg = drawReachMap(reach, {
        drawnOn,
        cautions: CAUTIONS.map(({ full }) => full),
        measured: standing.measured,
        load: `${formatForce(loadNewtons(setup))} ${setup.load.at === 'seat' ? T.inSeat : T.atPercent(setup.load.at)}`,
        rulesBy: T.rulesBy,
      });
      return { reach, svg, sentences: reachSentences(reach) };
    }
    going = { id: ++lastId, steps: drawn() };
    return { id: going.id, total: reachSteps(REACH_DEFAULTS) };
  },

  /** Some more of the map; the whole of it at the end; null where another run has taken its place. */
  reachNext(id: number): Step<ReachView> | null {
    return going?.id === id ? runFor(going.steps) : null;
  },
};
