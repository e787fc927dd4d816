import type { TreeParts } from './bar-shape.ts';
import type { Underside } from './underside.ts';

/** One layer of a bar's build-up: heights above the underside along its inward normal, mm. */
export interface Ply {
  readonly material: 'bar' | 'lower' | 'tip';
  readonly fromMm: number;
  readonly toMm: number;
}

/** Shortest foot that a fork or cantle is taken to have, mm. */
const LEAST_FOOT_MM = 10;

/**
 * Thickness square to the underside, mm: the stations' own between the tips; inside a tip an even taper from root to
 * edge. Undersides are flush, so where bar and tip meet the top may step.
 */
export function thicknessAt(bar: Underside, bMm: number): number {
  const into = wayIntoTip(bar, bMm);
  if (into === null) return bar.row(bMm).thicknessMm;
  const { tipThicknessMm, tipEdgeThicknessMm } = bar.shape;
  return tipThicknessMm + into * (tipEdgeThicknessMm - tipThicknessMm);
}

/** What the bar is made of at a place, from the underside up. The lower layer runs from tip edge to tip edge. */
export function pliesAt(bar: Underside, bMm: number): readonly Ply[] {
  const thick = thicknessAt(bar, bMm);
  const upper = wayIntoTip(bar, bMm) === null ? 'bar' : 'tip';
  const lower = bar.shape.lowerShare * thick;
  if (!(lower > 0)) return [{ material: upper, fromMm: 0, toMm: thick }];
  return [
    { material: 'lower', fromMm: 0, toMm: lower },
    { material: upper, fromMm: lower, toMm: thick },
  ];
}

/** Where the rigid fork or cantle holds the bars, mm from the front tip edge; the other way round if written so, never shorter than 10 mm. */
export function footOf(parts: TreeParts, which: 'fork' | 'cantle'): readonly [fromMm: number, toMm: number] {
  const ends =
    which === 'fork' ? [parts.forkFootFromMm, parts.forkFootToMm] : [parts.cantleFootFromMm, parts.cantleFootToMm];
  const [from, to] = [Math.min(...ends), Math.max(...ends)];
  return [from, Math.max(to, from + LEAST_FOOT_MM)];
}

/** Share of the way from a tip's root (0) to its edge (1); null between the tips. */
function wayIntoTip({ shape }: Underside, bMm: number): number | null {
  const { lengthMm, tipLengthFrontMm, tipLengthRearMm } = shape;
  if (bMm < tipLengthFrontMm) return 1 - Math.max(0, bMm) / tipLengthFrontMm;
  const behind = bMm - (lengthMm - tipLengthRearMm);
  return behind > 0 ? Math.min(1, behind / tipLengthRearMm) : null;
}
