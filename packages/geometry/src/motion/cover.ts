import type { BackSurface } from '../back/index.ts';
import type { Tree } from '../bar/index.ts';
import { withSlopes, withWiderSpread } from '../findings/index.ts';
import type { Setup } from '../seating/index.ts';
import { type GiveFigures, readGive } from './give-figures.ts';

/** What a cover that shrinks does to a tree: included angle and spread, + wider. */
export interface CoverShift {
  readonly angleDeg: number;
  readonly spreadMm: number;
}

export interface CoverRow extends CoverShift {
  readonly name: string;
  readonly figures: GiveFigures;
}

/** Laced on wet a rawhide cover moves a tree by up to so much either way (common practice, no source). */
export const COVER_SHIFTS: readonly (CoverShift & { readonly name: string })[] = [
  { name: 'as made', angleDeg: 0, spreadMm: 0 },
  { name: 'dry, drawn in', angleDeg: -2, spreadMm: -3 },
  { name: 'wet, let out', angleDeg: 2, spreadMm: 3 },
];

/** The tree as its cover leaves it: both slopes change by half the angle, the whole bars go sideways. */
export function coverTree(tree: Tree, { angleDeg, spreadMm }: CoverShift): Tree {
  const flatterRad = (-angleDeg / 2) * (Math.PI / 180);
  return withWiderSpread(withSlopes(tree, flatterRad, flatterRad), spreadMm);
}

/** Every shift settled on the same back under the same setup. */
export function* coverTable(
  tree: Tree,
  back: BackSurface,
  setup: Setup,
  shifts: readonly (CoverShift & { readonly name: string })[] = COVER_SHIFTS,
): Generator<CoverRow, void> {
  for (const { name, angleDeg, spreadMm } of shifts) {
    yield { name, angleDeg, spreadMm, figures: readGive(coverTree(tree, { angleDeg, spreadMm }), back, setup) };
  }
}
