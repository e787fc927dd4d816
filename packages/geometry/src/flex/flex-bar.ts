import type { BandMatrix } from '../numeric/index.ts';
import type { CellGrid } from './cell-grid.ts';
import type { LayupAt } from './plies.ts';
import type { ShellPatch } from './shell-strains.ts';

/** One bar as a shell with its ties, and the contact cells on it. Its own frame has y outward: the left bar's is the mirror image. */
export interface FlexBar {
  readonly patch: ShellPatch;
  readonly layupAt: LayupAt;
  /** Structure and ties, N/mm. */
  readonly stiffness: BandMatrix;
  readonly grid: CellGrid;
  /** +1 for the right bar, -1 for the left: y of the bar frame = mirror x outward y. */
  readonly mirror: 1 | -1;
}

/** Left bar first. */
export type FlexTree = readonly [FlexBar, FlexBar];
