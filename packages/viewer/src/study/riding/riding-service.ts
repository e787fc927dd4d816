import { type CaseBacks, createCaseBacks, type FitResult, type RidingCase, rideCase } from '@barwright/geometry';
import type { BackView } from '../../contract.ts';
import { viewBack } from '../../worker/back-view.ts';
import { benchOf, type OnBench } from '../shoulder/bench-of.ts';
import { type DrawnTree, drawTree, type MovedBack, patchReader } from '../shoulder/drawn-seat.ts';

/** One case of riding, settled. */
export interface RiddenView {
  readonly result: FitResult;
  readonly drawn: DrawnTree;
  /** The back as it stood, and as the case has it. */
  readonly standing: BackView;
  readonly back: MovedBack;
}

let held: { readonly id: number; readonly backs: CaseBacks } | null = null;

export const ridingService = {
  async rideOne(on: OnBench, riding: RidingCase): Promise<RiddenView> {
    const { tree, standing } = await benchOf(on);
    if (held?.id !== on.backId) held = { id: on.backId, backs: createCaseBacks(standing) };
    const { fit } = rideCase(tree, held.backs, on.setup, riding);
    return {
      result: fit.result,
      drawn: drawTree(fit.seated),
      standing: viewBack(standing, 0, []),
      back: patchReader(fit.seated.back)(fit.seated.back),
    };
  },
};
