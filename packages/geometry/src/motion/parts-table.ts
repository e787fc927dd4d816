import type { BackSurface } from '../back/index.ts';
import type { Tree } from '../bar/index.ts';
import { alterTree, withFlare } from '../findings/index.ts';
import { barTemperatureC } from '../layers/index.ts';
import type { Setup } from '../seating/index.ts';
import { type GiveFigures, readGive, withBars } from './give-figures.ts';

/** One variant of a tree, all else held. */
export interface PartRow {
  /** 'as built', 'rigid bars', 'tips', 'flare', 'ground seat', 'warmth', or a layer's name. */
  readonly part: string;
  /** What was done, in one sentence. */
  readonly changed: string;
  readonly figures: GiveFigures;
}

interface Variant {
  readonly part: string;
  readonly changed: string;
  readonly tree: Tree;
  readonly setup: Setup;
}

/** What each part buys: the tree as built, then every part taken out alone, all on one scale. Yields row by row. */
export function* partsTable(tree: Tree, back: BackSurface, setup: Setup): Generator<PartRow, void> {
  for (const { part, changed, tree: own, setup: under } of variantsOf(tree, withBars(setup, 'flexible'))) {
    yield { part, changed, figures: readGive(own, back, under) };
  }
}

/** Rows that partsTable yields. */
export const partsCount = (tree: Tree, setup: Setup): number => variantsOf(tree, withBars(setup, 'flexible')).length;

function variantsOf(tree: Tree, setup: Setup): Variant[] {
  const row = (part: string, changed: string, over: Partial<Pick<Variant, 'tree' | 'setup'>> = {}): Variant => ({
    part,
    changed,
    tree,
    setup,
    ...over,
  });
  const { warmth, flex, layers } = setup;
  const isWarm = barTemperatureC(warmth) !== UNWARMED_C || warmth.minutes > 0;
  return [
    row('as built', 'Flexible bars, everything as it is.'),
    row('rigid bars', 'Bars and tips do not bend.', { setup: withBars(setup, 'rigid') }),
    row('tips', 'Tips as thick as the bar where they begin, and of its material.', { tree: withoutTips(tree) }),
    row('flare', 'Tips not lifted.', { tree: withFlare(tree, 0, 0) }),
    ...(flex.groundSeat === 'none' && flex.groundSeatNPerMm2 === null
      ? []
      : [
          row('ground seat', 'Nothing ties the bars between fork and cantle.', {
            setup: { ...setup, flex: { ...flex, groundSeat: 'none', groundSeatNPerMm2: null } },
          }),
        ]),
    ...(isWarm
      ? [
          row('warmth', `Everything at ${UNWARMED_C} degrees C.`, {
            setup: { ...setup, warmth: { ...warmth, ambientC: UNWARMED_C, minutes: 0 } },
          }),
        ]
      : []),
    ...(layers.length < 2
      ? []
      : layers.map(({ name }, i) =>
          row(name, `Without the layer "${name}".`, { setup: { ...setup, layers: layers.filter((_, k) => k !== i) } }),
        )),
  ];
}

/** Temperature at which materials are tested and all factors are 1. */
const UNWARMED_C = 23;

const withoutTips = (tree: Tree): Tree =>
  alterTree(tree, (shape) => ({ ...shape, tipLengthFrontMm: 0, tipLengthRearMm: 0 }));
