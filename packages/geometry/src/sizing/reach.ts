import type { BackSurface } from '../back/index.ts';
import type { Tree } from '../bar/index.ts';
import { type FindingCode, fittedRock } from '../findings/index.ts';
import { bearingEnds, type Pose, type Setup } from '../seating/index.ts';
import { deviation, drawSteps, meanSlopeDeg } from './reach-error.ts';
import { type BackChangeStep, type Chord, liftOfStep } from './reach-lift.ts';
import { type ReachNode, readNode } from './reach-node.ts';
import { LEAST_RATIO } from './reach-ratio.ts';
import { type SteppedGrid, shareWithin } from './reach-within.ts';

export interface ReachOptions {
  /** Nodes across and up the map; odd, so that the measured back is one of them. */
  readonly nodes?: number;
  /** Ends of the map either side of the measured back. */
  readonly slopeDeg?: number;
  readonly sagMm?: number;
  readonly positionMm?: number;
  /** Cells of each seating. */
  readonly samples?: number;
  readonly seed?: number;
}

export const REACH_DEFAULTS = Object.freeze({
  nodes: 15,
  slopeDeg: 8,
  sagMm: 15,
  positionMm: 60,
  samples: 1000,
  seed: 1,
} satisfies Required<ReachOptions>);

/** What the map is centred on: the measured back under the bar's bearing chord. */
export interface ReachOrigin {
  readonly chord: Chord;
  /** Mean of both sides over the chord, degrees. */
  readonly slopeDeg: number;
  /** Of the bearing line over the chord, mm; null off the data. */
  readonly sagMm: number | null;
}

/** What the stated uncertainty comes to in the map's two directions. */
export interface ReachError {
  readonly confidence: number;
  readonly draws: number;
  readonly seed: number;
  readonly slopeSdDeg: number;
  readonly sagSdMm: number;
  /** Of the drawn horses, those that the map has no finding for; null where the map has places without result. */
  readonly share: number | null;
}

/** How far one may go from the measured back one way before a finding comes; code null: not before the map ends. */
export interface ReachLimit {
  readonly at: number;
  readonly code: FindingCode | null;
}

export type ReachAxis = 'slopeDeg' | 'sagMm' | 'positionMm';

export interface Reach {
  readonly tree: string;
  readonly back: string;
  readonly slopesDeg: readonly number[];
  readonly sagsMm: readonly number[];
  /** Rows by sag, least first; along a row by slope, flattest first. */
  readonly nodes: readonly ReachNode[];
  readonly here: ReachNode;
  /** Set positions less the setup's, mm, on the measured back. */
  readonly positionsMm: readonly number[];
  readonly atPositions: readonly ReachNode[];
  readonly setPositionMm: number;
  readonly setPositionBandMm: number;
  readonly origin: ReachOrigin;
  readonly error: ReachError;
  /** Lower and upper limit one direction at a time; null where the measured back itself has a finding. */
  readonly limits: Readonly<Record<ReachAxis, readonly [ReachLimit, ReachLimit]>> | null;
  /** The place without findings that is nearest, counted in measuring errors; null where there is none. */
  readonly nearest: BackChangeStep | null;
  /** Where the finding furthest over its rule is least over it; null where the map has no result at all. */
  readonly least: (BackChangeStep & { readonly ratio: number; readonly code: FindingCode | null }) | null;
  /** Of the map's nodes. */
  readonly freeShare: number;
  /** The same map of the same tree with rigid bars, where its own are flexible; else null. */
  readonly rigid: ReachRigid | null;
}

export interface ReachRigid {
  readonly nodes: readonly ReachNode[];
  readonly freeShare: number;
  /** Mean of ratio flexible less ratio rigid over the nodes that both know; null without any. */
  readonly meanChange: number | null;
}

const CONFIDENCE = 0.95;
const DRAWS = 1000;
const POSITIONS = 13;

/** Seatings that reachOf counts up to. */
export const reachSteps = ({ nodes = REACH_DEFAULTS.nodes }: ReachOptions = {}): number => nodes ** 2 + POSITIONS;

/**
 * How far a tree reaches: settled and laid on against backs steeper and flatter, more and less curved than the measured
 * one, and on the measured one further ahead and behind. Yields the number done. Slopes are really turned, one back for
 * each; curves are taken off the tree (treeAgainst), which moves no ratio by more than a twentieth of a rule (tested).
 * The whole back changes alike, so hollows, blades and asymmetry stay.
 */
export function* reachOf(
  tree: Tree,
  back: BackSurface,
  setup: Setup,
  options: ReachOptions = {},
): Generator<number, Reach> {
  const wanted = { ...REACH_DEFAULTS, ...options };
  const coarse: Setup = { ...setup, samples: wanted.samples, path: 'fast' };
  const origin = originOf(tree, back, setup.setPositionMm);
  const slopesDeg = evenly(wanted.slopeDeg, wanted.nodes);
  const sagsMm = evenly(wanted.sagMm, wanted.nodes);
  const nodes: ReachNode[] = new Array(wanted.nodes ** 2);
  const flexible = setup.flex.bars === 'flexible';
  const rigidSetup: Setup = { ...coarse, flex: { ...coarse.flex, bars: 'rigid' } };
  const rigidNodes: ReachNode[] = [];
  let done = 0;
  for (const [c, slopeDeg] of slopesDeg.entries()) {
    const turned = slopeDeg === 0 ? back : back.lifted(liftOfStep(back, { slopeDeg, sagMm: 0 }, origin.chord));
    let start: Pose | null = null;
    for (const [r, sagMm] of sagsMm.entries()) {
      const bent = sagMm === 0 ? null : liftOfStep(back, { slopeDeg: 0, sagMm }, origin.chord);
      const { node, pose } = readNode(tree, bent, turned, coarse, start);
      nodes[r * wanted.nodes + c] = node;
      if (flexible) rigidNodes[r * wanted.nodes + c] = readNode(tree, bent, turned, rigidSetup, pose).node;
      start = pose;
      yield ++done;
    }
  }
  const positionsMm = evenly(wanted.positionMm, POSITIONS);
  const atPositions: ReachNode[] = [];
  for (const step of positionsMm) {
    const moved = { ...coarse, setPositionMm: setup.setPositionMm + step };
    atPositions.push(readNode(tree, null, back, moved, null).node);
    yield ++done;
  }
  const grid: SteppedGrid = { slopesDeg, sagsMm, nodes };
  const error = errorOf(back, origin.chord, grid, wanted.seed);
  const here = nodes[(nodes.length - 1) / 2]!;
  return {
    tree: tree.name,
    back: back.name,
    ...grid,
    here,
    positionsMm,
    atPositions,
    setPositionMm: setup.setPositionMm,
    setPositionBandMm: setup.rules.setPositionBandMm,
    origin,
    error,
    limits: isFree(here) ? limitsOf(grid, positionsMm, atPositions) : null,
    nearest: nearestFree(grid, error),
    least: leastOver(grid),
    freeShare: freeShareOf(nodes),
    rigid: flexible ? besideRigid(nodes, rigidNodes) : null,
  };
}

const freeShareOf = (nodes: readonly ReachNode[]): number => nodes.filter(isFree).length / nodes.length;

function besideRigid(nodes: readonly ReachNode[], rigid: readonly ReachNode[]): ReachRigid {
  const changes = nodes.flatMap(({ ratio }, i) => {
    const other = rigid[i]!.ratio;
    return ratio === null || other === null ? [] : [ratio - other];
  });
  const meanChange = changes.length === 0 ? null : changes.reduce((sum, change) => sum + change, 0) / changes.length;
  return { nodes: rigid, freeShare: freeShareOf(rigid), meanChange };
}

const isFree = ({ ratio }: ReachNode): boolean => ratio !== null && ratio <= 1;

const evenly = (end: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => (end * (2 * i - count + 1)) / (count - 1));

function originOf(tree: Tree, back: BackSurface, setPositionMm: number): ReachOrigin {
  const { fromMm, toMm } = bearingEnds(tree);
  const chord = { middleXMm: setPositionMm + (fromMm + toMm) / 2, halfMm: (toMm - fromMm) / 2 };
  const curvature = fittedRock(tree, back, setPositionMm);
  const sagMm = curvature === null ? null : sagOfCurvature(curvature, chord.halfMm);
  return { chord, slopeDeg: meanSlopeDeg(back, chord), sagMm };
}

/** Sag of an arc over a chord of twice `halfMm`. */
function sagOfCurvature(curvature: number, halfMm: number): number {
  const x = curvature * halfMm;
  return (halfMm * x) / (1 + Math.sqrt(Math.max(0, 1 - x * x)));
}

/** Radius of the arc that has this sag over the chord; null where it is straight or hollow the other way. */
export const radiusOfSag = (sagMm: number, halfMm: number): number | null =>
  sagMm <= 0 ? null : (halfMm ** 2 + sagMm ** 2) / (2 * sagMm);

function errorOf(back: BackSurface, chord: Chord, grid: SteppedGrid, seed: number): ReachError {
  const steps = drawSteps(back, chord, DRAWS, seed);
  return {
    confidence: CONFIDENCE,
    draws: DRAWS,
    seed,
    slopeSdDeg: deviation(steps.map(({ slopeDeg }) => slopeDeg)),
    sagSdMm: deviation(steps.map(({ sagMm }) => sagMm)),
    share: shareWithin(grid, steps),
  };
}

function limitsOf(
  grid: SteppedGrid,
  positionsMm: readonly number[],
  atPositions: readonly ReachNode[],
): Reach['limits'] {
  const middle = (grid.slopesDeg.length - 1) / 2;
  const width = grid.slopesDeg.length;
  const row = grid.nodes.slice(middle * width, (middle + 1) * width);
  const column = grid.sagsMm.map((_, i) => grid.nodes[i * width + middle]!);
  return {
    slopeDeg: limitsAlong(grid.slopesDeg, row),
    sagMm: limitsAlong(grid.sagsMm, column),
    positionMm: limitsAlong(positionsMm, atPositions),
  };
}

function limitsAlong(places: readonly number[], nodes: readonly ReachNode[]): [ReachLimit, ReachLimit] {
  const middle = (places.length - 1) / 2;
  const walk = (by: 1 | -1): ReachLimit => {
    for (let i = middle; i + by >= 0 && i + by < places.length; i += by) {
      const [here, next] = [nodes[i]!, nodes[i + by]!];
      if (isFree(next)) continue;
      if (next.ratio === null) return { at: places[i]!, code: null };
      const { share, code } = firstOver(here, next);
      return { at: places[i]! + share * (places[i + by]! - places[i]!), code };
    }
    return { at: by < 0 ? places[0]! : places[places.length - 1]!, code: null };
  };
  return [walk(-1), walk(1)];
}

/** Which finding meets its rule first on the way from one node to the next, and how far along. */
function firstOver(here: ReachNode, next: ReachNode): { share: number; code: FindingCode | null } {
  let first: { share: number; code: FindingCode | null } = { share: 1, code: next.code };
  for (const [code, ratio] of Object.entries(next.ratios) as [FindingCode, number][]) {
    const from = here.ratios[code] ?? LEAST_RATIO;
    const share = (1 - from) / (ratio - from);
    if (ratio > 1 && share < first.share) first = { share, code };
  }
  return first;
}

function nearestFree({ slopesDeg, sagsMm, nodes }: SteppedGrid, error: ReachError): BackChangeStep | null {
  let best: BackChangeStep | null = null;
  let least = Number.POSITIVE_INFINITY;
  const [slopeUnit, sagUnit] = [Math.max(0.1, error.slopeSdDeg), Math.max(0.1, error.sagSdMm)];
  for (const [r, sagMm] of sagsMm.entries()) {
    for (const [c, slopeDeg] of slopesDeg.entries()) {
      const far = Math.hypot(slopeDeg / slopeUnit, sagMm / sagUnit);
      if (far >= least || !isFree(nodes[r * slopesDeg.length + c]!)) continue;
      least = far;
      best = { slopeDeg, sagMm };
    }
  }
  return best;
}

function leastOver({ slopesDeg, sagsMm, nodes }: SteppedGrid): Reach['least'] {
  let best: Reach['least'] = null;
  for (const [k, { ratio, code }] of nodes.entries()) {
    if (ratio === null || (best !== null && ratio >= best.ratio)) continue;
    const slopeDeg = slopesDeg[k % slopesDeg.length]!;
    best = { slopeDeg, sagMm: sagsMm[Math.floor(k / slopesDeg.length)]!, ratio, code };
  }
  return best;
}
