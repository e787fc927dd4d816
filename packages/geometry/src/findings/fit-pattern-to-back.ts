import type { BackSurface } from '../back/index.ts';
import type { Tree } from '../bar/index.ts';
import type { Setup } from '../seating/index.ts';
import { withBearingLineAt, withLength, withRock, withStationSlopes } from './alter-tree.ts';
import { seatAndLay } from './causes.ts';
import { BEARING_LINE_MM, fitSlopes, fittedRock, usableBarLength } from './fitted-values.ts';

/** Slopes and rock lean on each other, so both are fitted in turn. */
const ROUNDS = 5;

export interface FitPatternOptions {
  /** Also take the length whose bearing ends at the last rib. */
  readonly length?: boolean;
}

/**
 * A tree like `start` whose spread, rock and station slopes are the back's own, mean of both sides: what a maker would
 * aim at. Widths, crown, flare, relief and thickness stay.
 */
export function fitPatternToBack(start: Tree, back: BackSurface, setup: Setup, options: FitPatternOptions = {}): Tree {
  let tree = withBearingLineAt(start, BEARING_LINE_MM);
  if (options.length === true) tree = withLength(tree, usableBarLength(tree, back, setup));
  for (let round = 0; round < ROUNDS; round++) {
    const rock = fittedRock(tree, back, setup.setPositionMm);
    if (rock !== null) tree = withRock(tree, rock);
    const slopes = fitSlopes(seatAndLay({ tree, back, setup: { ...setup, samples: Math.min(setup.samples, 2500) } }));
    if (slopes !== null)
      tree = withStationSlopes(
        tree,
        slopes.mismatchRad.map((m) => -m),
      );
  }
  return tree;
}
