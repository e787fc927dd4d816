import type { BarMaterials, TreeParts } from './bar-shape.ts';
import { createHeightJet, type Underside } from './underside.ts';

export type { TreeParts } from './bar-shape.ts';

/** Two undersides and what joins them. */
export interface Tree {
  readonly name: string;
  readonly left: Underside;
  readonly right: Underside;
  readonly parts: TreeParts;
  readonly materials: BarMaterials;
}

/** Bars' common length, mm. */
export const treeLengthMm = (tree: Tree): number => tree.right.shape.lengthMm;

/** A point of one bar's underside in the bar frame, mm: y is given outward and is mirrored for the left bar. */
export function undersidePoint(
  tree: Tree,
  side: 'left' | 'right',
  bMm: number,
  outwardYMm: number,
): [number, number, number] {
  const bar = tree[side];
  const jet = bar.heightJet(bar.row(bMm), outwardYMm, createHeightJet());
  return [bMm - bar.shape.rockLowPointMm, side === 'right' ? outwardYMm : -outwardYMm, jet.z];
}

/** Outward distance of a place across the bar: t = -1 inner edge, +1 outer edge. mm */
export function outwardY(tree: Tree, side: 'left' | 'right', bMm: number, t: number): number {
  const row = tree[side].row(bMm);
  return row.middleY[0] + t * row.outlineHalfWidthY;
}

/** Outward distance of the bar's own bearing line, mm. */
export const bearingY = (tree: Tree, side: 'left' | 'right', bMm: number): number => tree[side].row(bMm).bearingY[0];
