import { footOf, pliesAt, type Tree, thicknessAt, type Underside } from '../bar/index.ts';
import { InputError } from '../numeric/index.ts';

/** Place in the section: along the bar from the front tip edge, and up. mm */
export type SectionPoint = readonly [bMm: number, zMm: number];

/** What the section drawing gives in figures. mm; thicknesses square to the underside. */
export interface TipDimensions {
  readonly tipLengthMm: number;
  readonly rootThicknessMm: number;
  readonly edgeThicknessMm: number;
  /** Of the lower layer at root and edge, 0 where there is none. */
  readonly rootLowerMm: number;
  readonly edgeLowerMm: number;
  /** Of the bar itself where the tip ends. */
  readonly barThicknessMm: number;
  /** Upright, of the tip edge over the unflared surface continued. */
  readonly liftMm: number;
  readonly flareZoneMm: number;
  readonly forkFootFromMm: number;
  readonly forkFootToMm: number;
}

/** One piece of one material, as a closed outline. */
export interface SectionPly {
  readonly material: 'bar' | 'lower' | 'tip';
  readonly outline: readonly SectionPoint[];
}

const STEP_MM = 1;
/** The tip's own side of its root. */
const JUST = 1e-6;
/** Bar shown behind the last thing that is dimensioned. */
const BEHIND_MM = 25;

/** Figures of the front tip. Throws InputError 'out-of-range' for a bar without one. */
export function tipDimensions(tree: Tree, side: 'left' | 'right'): TipDimensions {
  const bar = tree[side];
  const { tipLengthFrontMm, flareZoneFrontMm } = bar.shape;
  if (!(tipLengthFrontMm > 0)) {
    throw new InputError({
      code: 'out-of-range',
      field: 'tipLengthFront',
      got: `${tipLengthFrontMm} mm`,
      expected: 'a front tip longer than 0 mm',
      remedy: 'Give the tip a length',
    });
  }
  const [forkFootFromMm, forkFootToMm] = footOf(tree.parts, 'fork');
  const root = tipLengthFrontMm - JUST;
  return {
    tipLengthMm: tipLengthFrontMm,
    rootThicknessMm: bar.shape.tipThicknessMm,
    edgeThicknessMm: bar.shape.tipEdgeThicknessMm,
    rootLowerMm: lowerAt(bar, root),
    edgeLowerMm: lowerAt(bar, 0),
    barThicknessMm: thicknessAt(bar, tipLengthFrontMm),
    liftMm: bar.row(0).flare[0],
    flareZoneMm: flareZoneFrontMm,
    forkFootFromMm,
    forkFootToMm,
  };
}

const lowerAt = (bar: Underside, bMm: number): number =>
  pliesAt(bar, bMm).find((ply) => ply.material === 'lower')?.toMm ?? 0;

/** How far back the section goes. */
export function sectionEndMm(bar: Underside, of: TipDimensions): number {
  return Math.min(bar.shape.lengthMm, Math.max(of.tipLengthMm, of.flareZoneMm, of.forkFootToMm) + BEHIND_MM);
}

/**
 * Height over the underside `upMm` square to it, lengthwise: rock and flare as the pattern gives them, upright; the slope
 * across is laid level, so that thickness shows in full.
 */
export function aboveUnderside(bar: Underside, bMm: number, upMm: number): SectionPoint {
  const { bearingZ, flare } = bar.row(bMm);
  const slope = bearingZ[1] + flare[1];
  const stretch = Math.hypot(1, slope);
  return [bMm - (slope * upMm) / stretch, bearingZ[0] + flare[0] + upMm / stretch];
}

/** Height of the underside without flare. */
export const unflared = (bar: Underside, bMm: number): SectionPoint => [bMm, bar.row(bMm).bearingZ[0]];

/** Steps from `from` to `to`, both ends included. */
export function steps(from: number, to: number): number[] {
  const count = Math.max(1, Math.ceil((to - from) / STEP_MM));
  return Array.from({ length: count + 1 }, (_, i) => from + ((to - from) * i) / count);
}

/** Outlines of all pieces from the tip edge to `endMm`: tip, then bar, from the underside up. */
export function sectionPlies(bar: Underside, endMm: number): SectionPly[] {
  const root = Math.min(bar.shape.tipLengthFrontMm, endMm);
  const stretches = [steps(0, root - JUST), ...(endMm > root ? [steps(root, endMm)] : [])];
  return stretches.flatMap((at) =>
    pliesAt(bar, at[0]!).map(({ material }, layer): SectionPly => {
      const under = at.map((b) => aboveUnderside(bar, b, pliesAt(bar, b)[layer]!.fromMm));
      const over = at.map((b) => aboveUnderside(bar, b, pliesAt(bar, b)[layer]!.toMm));
      return { material, outline: [...under, ...over.reverse()] };
    }),
  );
}
