import { buildTree, parentDocument, putLegsForward, resolvePattern, seatTree } from '@barwright/geometry';
import type { CutView } from '../../contract.ts';
import { cutAt } from '../../worker/cut-view.ts';
import { benchOf, type OnBench } from '../shoulder/bench-of.ts';
import { type StationDepths, stationDepths } from '../takeoff/takeoff-service.ts';

export interface StationCutAt {
  readonly name: string;
  readonly xMm: number;
  readonly cut: CutView;
}

export interface StationStack {
  readonly stations: readonly StationCutAt[];
  /** From the parent to the pattern on the bench, by low points; null where it has no parent or other stations. */
  readonly change: { readonly parent: string; readonly rows: readonly StationDepths[] } | null;
  readonly layersMm: number;
}

export const stationsService = {
  /** Every station of the bench's tree as a cut through it and the back, laid on or under the rider. */
  async stationStack(on: OnBench, laidOn: boolean): Promise<StationStack> {
    const { tree, standing } = await benchOf(on);
    const { setup, pattern } = on;
    const seated = seatTree(tree, putLegsForward(standing, setup.legForward), setup, { laidOn });
    const stations = tree.right.shape.stations.map(({ name, atMm }) => {
      const xMm = Math.round(setup.setPositionMm + atMm);
      return { name, xMm, cut: cutAt(seated, xMm) };
    });
    const parent = parentDocument(pattern);
    const before = parent === null ? null : buildTree(resolvePattern(parent));
    const change = before === null ? null : { parent: before.name, rows: stationDepths(before, tree, 'low points') };
    return { stations, change, layersMm: seated.stack.thicknessMm };
  },
};
