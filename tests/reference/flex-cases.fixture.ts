import post from '../../examples/post.pattern.json' with { type: 'json' };
import {
  type BarShape,
  buildTree,
  createUnderside,
  type TreeParts,
  thicknessAt,
  type Underside,
} from '../../packages/geometry/src/bar/index.ts';
import { readPattern, resolvePattern } from '../../packages/geometry/src/pattern/index.ts';
import stored from './flex-answers.json' with { type: 'json' };

/**
 * Bending bars as an outside finite-element program sees them: what each case is, and the answers kept of it.
 * Frame: bar frame of the right bar, y outward, z up, mm; x = b - rockLowPointMm. N, mm, MPa.
 * outward = unit normal of the unloaded underside out of the material, towards the horse; squeeze = c0(b) + displacement .
 * outward; the bed's force on the bar per unloaded area = -bed.nPerMm3 * max(0, squeeze) * outward. All of it linear.
 */
export interface FlexCase {
  readonly name: string;
  readonly what: string;
  readonly shape: BarShape;
  readonly parts: TreeParts;
  /** Isotropic, MPa, by place in the bar; Poisson's ratio of all. */
  readonly modulusMPa: Readonly<Record<'bar' | 'lower' | 'tip', number>>;
  readonly poisson: number;
  /** Stretches of b that bend; each end is free or held over its whole thickness. Nothing between them moves. */
  readonly spans: readonly { readonly fromMm: number; readonly toMm: number; readonly held: 'from' | 'to' | 'both' }[];
  /** One-sided springs under the whole underside; c0 in mm at b, negative where clear. */
  readonly bed: { readonly nPerMm3: number; readonly c0Mm: (bMm: number) => number } | null;
  /** Even pressure on the underside along the inward normal, kPa. */
  readonly pressureKPa: number;
  /** Springs alike in x, y and z along the inner edge (t = -1), N per mm of travel per mm of the edge's own length. */
  readonly rail: { readonly fromMm: number; readonly toMm: number; readonly nPerMm2: number } | null;
  /** Where answers are kept: t = -1 inner, 1 outer edge of the rounded outline. */
  readonly at: { readonly bMm: readonly number[]; readonly t: readonly number[] };
}

/** One kept displacement of the underside: place, tau in the tapered unrounded plan, and u in x, y, z. mm */
export interface KeptPlace {
  readonly bMm: number;
  readonly t: number;
  readonly tau: number;
  readonly u: readonly number[];
}

export interface Answer {
  readonly name: string;
  readonly what: string;
  readonly shape: BarShape;
  readonly places: readonly KeptPlace[];
  /** Of the bed on the parts that bend, and on the feet between them (whose squeeze is c0), N. */
  readonly bedForceN: readonly number[];
  readonly footForceN: readonly number[];
  readonly pressureForceN: readonly number[];
  readonly railForceN: readonly number[];
  /** Of what holds the spans' ends on the parts that bend, from the forces the outside program prints, N. */
  readonly supportForceN: readonly number[];
  /** Share of the bent parts' underside that presses. */
  readonly pressedShare: number;
  /** Longest kept displacement. */
  readonly greatestMm: number;
  readonly mesh: { readonly bricks: number; readonly nodes: number; readonly rounds: number };
}

export interface KeptAnswer extends Answer {
  /** The longest change of a kept displacement from the next coarser mesh, percent of the longest displacement; of the bed's force or the support's, percent. */
  readonly refinement: { readonly movePercent: number; readonly forcePercent: number; readonly coarserBricks: number };
}

const tree = buildTree(resolvePattern(readPattern(post)));
const { shape: POST } = tree.right;

const LDPE = 200;
const HDPE = 900;
const BED = 0.0136;
const TIP: BarShape = { ...POST, tipThicknessMm: 12, tipEdgeThicknessMm: 4, lowerShare: 0.5 };
const NO_RELIEF = { reliefDepthMm: 0, reliefFraction: 0 };

/** The same plan laid flat in the station's slope. */
const flattened = (shape: BarShape): BarShape => ({
  ...shape,
  ...NO_RELIEF,
  rockCurvaturePerMm: 0,
  flareLiftFrontMm: 0,
  flareLiftRearMm: 0,
  stations: shape.stations.map((s) => ({ ...s, crownCurvaturePerMm: 0 })),
});

const tip = (name: string, what: string, shape: BarShape, load: Pick<FlexCase, 'bed' | 'pressureKPa'>): FlexCase => ({
  name,
  what,
  shape,
  parts: tree.parts,
  modulusMPa: { bar: HDPE, lower: LDPE, tip: HDPE },
  poisson: 0.45,
  spans: [{ fromMm: 0, toMm: shape.tipLengthFrontMm, held: 'to' }],
  rail: null,
  at: { bMm: [2, 20, 40, 60], t: [-0.8, 0, 0.8] },
  ...load,
});

const PRESSURE = { bed: null, pressureKPa: 10 };
const TIP_BED = { bed: { nPerMm3: BED, c0Mm: (b: number) => 10 - 0.2 * b }, pressureKPa: 0 };

const bar = (name: string, what: string, over: Partial<BarShape>): FlexCase => ({
  name,
  what,
  shape: { ...POST, tipThicknessMm: 12, tipEdgeThicknessMm: 5, lowerShare: 0.4, ...over },
  parts: { ...tree.parts, forkFootFromMm: 75, forkFootToMm: 110, cantleFootFromMm: 478.7, cantleFootToMm: 495 },
  modulusMPa: { bar: HDPE, lower: LDPE, tip: LDPE },
  poisson: 0.45,
  spans: [
    { fromMm: 0, toMm: 75, held: 'to' },
    { fromMm: 110, toMm: 478.7, held: 'both' },
    { fromMm: 495, toMm: POST.lengthMm, held: 'from' },
  ],
  bed: { nPerMm3: BED, c0Mm: (b: number) => 3 + 5 * Math.cos((4 * Math.PI * b) / 560) },
  pressureKPa: 0,
  rail: { fromMm: 175, toMm: 478.7, nPerMm2: 1 },
  at: { bMm: [5, 20, 40, 60, 150, 200, 250, 294.35, 350, 400, 450, 510, 530, 555], t: [-0.8, 0, 0.8] },
});

const CROWN_ONLY = { ...TIP, ...NO_RELIEF, flareLiftFrontMm: 0 };

export const FLEX_CASES: readonly FlexCase[] = [
  tip('tip-bed', 'front tip on one-sided springs', TIP, TIP_BED),
  tip('tip-bed-no-relief', 'front tip without edge relief on one-sided springs', { ...TIP, ...NO_RELIEF }, TIP_BED),
  tip('tip-bed-flat', 'front tip laid flat on one-sided springs', flattened(TIP), TIP_BED),
  tip('tip-pressure', 'front tip under an even pressure', TIP, PRESSURE),
  tip(
    'tip-pressure-no-relief',
    'front tip without edge relief under an even pressure',
    { ...TIP, ...NO_RELIEF },
    PRESSURE,
  ),
  tip('tip-pressure-crown', 'front tip with crown and rock alone under an even pressure', CROWN_ONLY, PRESSURE),
  tip('tip-pressure-flat', 'front tip laid flat under an even pressure', flattened(TIP), PRESSURE),
  bar('bar-bed', 'whole bar in two layers, held at both feet and along the ground seat, on one-sided springs', {}),
  bar('bar-bed-no-relief', 'the whole bar without edge relief', NO_RELIEF),
];

/** @throws RangeError for a name that is not in FLEX_CASES */
export function flexCase(name: string): FlexCase {
  const found = FLEX_CASES.find((c) => c.name === name);
  if (found === undefined) throw new RangeError(`no case ${name}`);
  return found;
}

/** The file as it was made: provenance, beams, answers. */
export const keptFlex = stored;

/** The outside program's answer to a case. @throws RangeError where none is kept */
export function keptAnswer(name: string): KeptAnswer {
  const found = (stored.answers as readonly KeptAnswer[]).find((a) => a.name === name);
  if (found === undefined) throw new RangeError(`no answer kept for ${name}`);
  return found;
}

export const undersideOf = (c: FlexCase): Underside => createUnderside(c.shape);

/** Thickness inside a span; at the thickness step at its ends the limit from within. mm */
export const thicknessWithin = (bar: Underside, bMm: number, fromMm: number, toMm: number): number =>
  thicknessAt(bar, Math.min(Math.max(bMm, fromMm + 1e-9), toMm - 1e-9));
