import type { BackSurface, Lift } from '../back/index.ts';
import type { Tree } from '../bar/index.ts';
import { type Reading, readTree } from '../findings/index.ts';
import { type Pose, type Setup, type SpineClearance, seatTree, spineClearance } from '../seating/index.ts';
import { treeAgainst } from './tree-against.ts';

/**
 * A tree settled and laid on as the back with this lift would meet it (null: the back itself), by way of treeAgainst; the
 * spine is read from the tree as it is and the topline as lifted. `start` is a nearby pose.
 */
export function readAgainst(
  tree: Tree,
  lift: Lift | null,
  back: BackSurface,
  setup: Setup,
  start: Pose | null,
): Reading {
  const met = lift === null ? tree : treeAgainst(tree, lift, setup.setPositionMm);
  const seated = seatTree(met, back, setup, start === null ? {} : { start });
  const reading = readTree(seated, seatTree(met, back, setup, { laidOn: true, samples: seated.samples }));
  if (lift === null) return reading;
  let spine: SpineClearance | null = null;
  const lifted = liftedTopline(back, lift);
  return {
    seated,
    laidOn: reading.laidOn,
    rules: reading.rules,
    get contact() {
      return reading.contact;
    },
    get mismatch() {
      return reading.mismatch;
    },
    get spine() {
      spine ??= spineClearance({ ...seated, tree, loaded: tree, back: lifted });
      return spine;
    },
  };
}

/** Only heights are lifted, which is all that the spine's room is read from. */
const liftedTopline = (back: BackSurface, lift: Lift): BackSurface =>
  Object.create(back, {
    heightMm: { value: (x: number, y: number): number => back.heightMm(x, y) + lift.at(x, y) },
  }) as BackSurface;
