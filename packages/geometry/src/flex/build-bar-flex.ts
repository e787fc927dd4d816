import {
  type BarRange,
  type BarSamples,
  createHeightJet,
  footOf,
  pliesAt,
  type TreeParts,
  type Underside,
} from '../bar/index.ts';
import { type BandMatrix, createSplineBasis } from '../numeric/index.ts';
import { barSurface } from './bar-surface.ts';
import { createCellGrid } from './cell-grid.ts';
import type { FlexBar } from './flex-bar.ts';
import { type Elastic, type LayupAt, type StiffPly, stiffPly } from './plies.ts';
import { addBed, addRail, assembleShell } from './shell-stiffness.ts';
import { createPatch, type ShellPatch } from './shell-strains.ts';

export interface FlexOptions {
  /** Elastic numbers of the tree's materials by their place in the bar. */
  readonly elastic: Readonly<Record<'bar' | 'lower' | 'tip', Elastic>>;
  /** How firmly the ground seat holds the bars' inner edges to fork and cantle, N per mm of travel per mm of length. */
  readonly groundSeatNPerMm2: number;
  /** Default 'fine'. */
  readonly mesh?: ShellMesh;
}

/** 'fine' for results; 'quick' while a hand moves something: fewer pieces, a few per cent stiffer (seat-quickly.test.ts). */
export type ShellMesh = 'fine' | 'quick';

/** One bar's structure, without cells. */
export interface BarStructure {
  readonly patch: ShellPatch;
  readonly stiffness: BandMatrix;
  readonly layupAt: LayupAt;
}

interface Pieces {
  /** Longest piece between the feet and along a free tip, mm. */
  readonly longestMm: number;
  readonly longestTipMm: number;
  readonly across: number;
  /** Length of a piece of its own beside a foot, where the underside's stretch changes abruptly, mm. */
  readonly edgeMm: number;
  /** Places along a piece at which it is asked (assembleShell). */
  readonly pointsAlong: 2 | 3;
}

/** tests/reference holds the fine ones to an outside program. */
const MESHES: Readonly<Record<ShellMesh, Pieces>> = Object.freeze({
  fine: { longestMm: 60, longestTipMm: 14, across: 4, edgeMm: 2.5, pointsAlong: 3 },
  quick: { longestMm: 120, longestTipMm: 40, across: 2, edgeMm: 2.5, pointsAlong: 2 },
});
/** Fork and cantle hold their feet this firmly, N/mm3: a thousandth of a millimetre under a rider. */
const FOOT_N_PER_MM3 = 1000;

/**
 * A bar as a shell: pieces end where its thickness steps and where fork and cantle begin and end. The stirrup slot is not cut
 * out; fork and cantle are one rigid frame.
 */
export function buildBarStructure(bar: Underside, parts: TreeParts, options: FlexOptions): BarStructure {
  const { lengthMm, tipLengthFrontMm, tipLengthRearMm } = bar.shape;
  const pieces = MESHES[options.mesh ?? 'fine'];
  const feet = [footOf(parts, 'fork'), footOf(parts, 'cantle')] as const;
  const tips = [tipLengthFrontMm, lengthMm - tipLengthRearMm];
  const kinks = merge([...feet.flat(), ...tips], lengthMm);
  const along = createSplineBasis(piecesBetween(kinks, lengthMm, feet, pieces), kinks);
  const across = createSplineBasis(Array.from({ length: pieces.across + 1 }, (_, i) => -1 + (2 * i) / pieces.across));
  const patch = createPatch(barSurface(bar), along, across);
  const layupAt = layupOf(bar, options);
  const stiffness = assembleShell(patch, layupAt, pieces.pointsAlong);
  for (const [from, to] of feet) addBed(patch, stiffness, from, to, FOOT_N_PER_MM3);
  if (options.groundSeatNPerMm2 > 0) {
    const from = Math.max(0, parts.groundSeatFromMm);
    const to = Math.min(lengthMm, parts.groundSeatToMm);
    if (to > from) addRail(patch, stiffness, from, to, -1, options.groundSeatNPerMm2);
  }
  return { patch, stiffness, layupAt };
}

/** The bar's build-up above its underside as it was before the edge relief lifted it there. */
function layupOf(bar: Underside, { elastic }: FlexOptions): LayupAt {
  const [full, bare] = [createHeightJet(), createHeightJet()];
  // All places across are asked for one b at a time.
  let plies: readonly StiffPly[] = [];
  let pliesAtMm = Number.NaN;
  return (bMm, tau) => {
    const row = bar.row(bMm);
    const y = row.middleY[0] + tau * row.halfWidthY[0];
    const lifted = bar.heightJet(row, y, full).z - bar.heightJet(row, y, bare, true).z - row.flare[0];
    if (bMm !== pliesAtMm) {
      plies = pliesAt(bar, bMm).map(({ material, fromMm, toMm }) => stiffPly(elastic[material], fromMm, toMm));
      pliesAtMm = bMm;
    }
    return { plies, riseMm: lifted / Math.hypot(1, bare.zb + row.flare[1], bare.zy) };
  };
}

/** One bar with its share of a tree's contact cells. */
export function gridOnBar(structure: BarStructure, bar: Underside, samples: BarSamples, range: BarRange): FlexBar {
  const { rows, columns, bMm, t } = samples;
  const along = Float64Array.from({ length: rows }, (_, i) => bMm[range.from + i * columns]!);
  const tau = new Float64Array(rows * columns);
  for (let i = 0; i < rows; i++) {
    const row = bar.row(along[i]!);
    const share = row.outlineHalfWidthY / row.halfWidthY[0];
    for (let j = i * columns; j < (i + 1) * columns; j++) tau[j] = share * t[range.from + j]!;
  }
  return {
    ...structure,
    grid: createCellGrid(structure.patch, along, columns, tau),
    mirror: range.side === 'left' ? -1 : 1,
  };
}

/** Rising places within the bar, none closer than a millimetre to another or to an end. */
function merge(places: readonly number[], lengthMm: number): number[] {
  const out: number[] = [];
  for (const at of [...places].sort((a, b) => a - b)) {
    if (at > 1 && at < lengthMm - 1 && at - (out[out.length - 1] ?? 0) > 1) out.push(at);
  }
  return out;
}

/** Pieces between the kinks: a short one on the free side of every foot, the others even, shorter in the tips. */
function piecesBetween(
  kinks: readonly number[],
  lengthMm: number,
  feet: readonly (readonly [number, number])[],
  { longestMm, longestTipMm, edgeMm }: Pieces,
): number[] {
  const ends = [0, ...kinks, lengthMm];
  const isFootEnd = (at: number): boolean => feet.some((foot) => foot.some((end) => Math.abs(end - at) <= 1));
  const out = [0];
  for (let i = 1; i < ends.length; i++) {
    const [from, to] = [ends[i - 1]!, ends[i]!];
    const roomy = to - from > 4 * edgeMm;
    const start = roomy && isFootEnd(from) ? from + edgeMm : from;
    const stop = roomy && isFootEnd(to) ? to - edgeMm : to;
    if (start > from) out.push(start);
    const isTip = from < feet[0]![0] - 1 || to > feet[feet.length - 1]![1] + 1;
    const count = Math.max(1, Math.ceil((stop - start) / (isTip ? longestTipMm : longestMm)));
    for (let k = 1; k <= count; k++) out.push(start + ((stop - start) * k) / count);
    if (stop < to) out.push(to);
  }
  return out;
}
