import { type BackSurface, type Lift, sumOfLifts } from '../back/index.ts';
import type { Tree } from '../bar/index.ts';
import { type FindingCode, observeAll, type Reading, readTree } from '../findings/index.ts';
import { type Random, seededRandom } from '../numeric/index.ts';
import { type Pose, type Setup, seatTree, tipFigures } from '../seating/index.ts';
import { type DrawnError, drawError, ERROR_SOURCES, type ErrorSource } from './measuring-error.ts';
import { treeAgainst } from './tree-against.ts';

/** Figures that get a band. null where there is none (no contact, off the data). */
export const BAND_FIGURES = {
  meanPressureKPa: (r) => r.contact.meanPressureKPa,
  p95PressureKPa: (r) => r.contact.p95PressureKPa,
  peakPressureKPa: (r) => r.contact.peakPressureKPa,
  areaCm2: (r) => r.contact.areaCm2,
  shareFront: (r) => r.contact.shareFront,
  shareMiddle: (r) => r.contact.shareMiddle,
  pitchDeg: (r) => (r.seated.seat.pose.pitchRad * 180) / Math.PI,
  rollDeg: (r) => (r.seated.seat.pose.rollRad * 180) / Math.PI,
  lengthwiseLeftMm: (r) => r.mismatch.lengthwiseLeftMm,
  lengthwiseRightMm: (r) => r.mismatch.lengthwiseRightMm,
  slopeFrontDeg: (r) => slopeMismatch(r, 0),
  slopeRearDeg: (r) => slopeMismatch(r, -1),
  tipGapMm: (r) => leastTip(r),
  spineAtForkMm: (r) => r.spine.atForkMm,
} as const satisfies Record<string, (reading: Reading) => number | null>;

export type BandFigure = keyof typeof BAND_FIGURES;

export interface Band {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Share of the band's variance that comes from each source; set position last. Sums to about 1. */
  readonly from: readonly { readonly source: ErrorSource | 'set position'; readonly share: number }[];
}

export interface SureFinding {
  readonly code: FindingCode;
  /** Shown by the measurements as they are. */
  readonly isShown: boolean;
  /** Share of the drawn horses that show it. */
  readonly share: number;
  /** Between 5 and 95 of 100: these measurements do not settle it. */
  readonly isOpen: boolean;
}

export interface HowSure {
  readonly draws: number;
  readonly confidence: number;
  readonly seed: number;
  readonly uncertaintyMm: number;
  readonly uncertaintyDeg: number;
  readonly setPositionBandMm: number;
  readonly bands: Readonly<Partial<Record<BandFigure, Band>>>;
  readonly findings: readonly SureFinding[];
  /** The measurement whose repeat narrows most, over the open findings' own figures; null when nothing is open. */
  readonly repeat: ErrorSource | 'set position' | null;
  /** Draws that did not settle or left the data. */
  readonly lost: number;
}

export interface HowSureOptions {
  readonly draws?: number;
  readonly seed?: number;
  /** Cells per draw; bands are differences, so a coarse grid serves. */
  readonly samples?: number;
  /** What the measured back has over `back`: the bands are then about that horse. */
  readonly measuredLift?: Lift;
}

const CONFIDENCE = 0.95;
const OPEN_FROM = 0.05;
const DRAWS = 200;
const SAMPLES = 1500;

interface Draw {
  readonly error: DrawnError | null;
  readonly setPositionMm: number;
  readonly reading: Reading | null;
}

/**
 * Draws horses that these measurements could have come from, and set positions within the rules' band, and settles the
 * tree on each: yields the number done, returns bands. The horse's error is taken off the tree (treeAgainst), so every
 * draw runs on the same charts.
 */
export function* howSure(
  tree: Tree,
  back: BackSurface,
  setup: Setup,
  options: HowSureOptions = {},
): Generator<number, HowSure> {
  const { draws = DRAWS, seed = 1, samples = SAMPLES } = options;
  const random = seededRandom(seed);
  const coarse: Setup = { ...setup, samples, path: 'fast' };
  const known = options.measuredLift === undefined ? [] : [options.measuredLift];
  const measured = sumTree(tree, known, coarse.setPositionMm);
  const here = readDrawn(measured, back, coarse, null);
  let start: Pose | null = here === null ? null : here.seated.seat.pose;
  const drawn: Draw[] = [];
  for (let i = 0; i < draws; i++) {
    const draw = drawOne(tree, back, coarse, known, random, start);
    if (start === null && draw.reading !== null) start = draw.reading.seated.seat.pose;
    drawn.push(draw);
    yield i + 1;
  }
  return summarise(here, drawn, coarse, back, seed);
}

function drawOne(
  tree: Tree,
  back: BackSurface,
  setup: Setup,
  known: readonly Lift[],
  random: Random,
  start: Pose | null,
): Draw {
  const error = drawError(back, random);
  const setPositionMm = setup.setPositionMm + setup.rules.setPositionBandMm * (2 * random() - 1);
  const moved = { ...setup, setPositionMm };
  const from = start === null ? null : { ...start, xMm: start.xMm + setPositionMm - setup.setPositionMm };
  return {
    error,
    setPositionMm,
    reading: readDrawn(sumTree(tree, [...known, error.lift], setPositionMm), back, moved, from),
  };
}

const sumTree = (tree: Tree, lifts: readonly Lift[], setPositionMm: number): Tree =>
  lifts.length === 0 ? tree : treeAgainst(tree, sumOfLifts(lifts), setPositionMm);

function readDrawn(tree: Tree, back: BackSurface, setup: Setup, start: Pose | null): Reading | null {
  const seated = seatTree(tree, back, setup, start === null ? {} : { start });
  if (seated.status !== 'settled') return null;
  return readTree(seated, seatTree(tree, back, setup, { laidOn: true, samples: seated.samples }));
}

function summarise(
  here: Reading | null,
  drawn: readonly Draw[],
  setup: Setup,
  back: BackSurface,
  seed: number,
): HowSure {
  const kept = drawn.filter((draw): draw is Draw & { reading: Reading; error: DrawnError } => draw.reading !== null);
  const bands: Partial<Record<BandFigure, Band>> = {};
  for (const name of Object.keys(BAND_FIGURES) as BandFigure[]) {
    const band = here === null ? null : bandOf(name, here, kept, setup);
    if (band !== null) bands[name] = band;
  }
  const findings = sureFindings(here, kept);
  return {
    draws: drawn.length,
    confidence: CONFIDENCE,
    seed,
    uncertaintyMm: back.measured.uncertaintyMm,
    uncertaintyDeg: back.measured.uncertaintyDeg,
    setPositionBandMm: setup.rules.setPositionBandMm,
    bands,
    findings,
    repeat: worthRepeating(findings, bands),
    lost: drawn.length - kept.length,
  };
}

type Kept = Draw & { reading: Reading; error: DrawnError };

function bandOf(name: BandFigure, here: Reading, kept: readonly Kept[], setup: Setup): Band | null {
  const of = BAND_FIGURES[name];
  const value = of(here);
  const pairs = kept.flatMap((draw) => {
    const figure = of(draw.reading);
    return figure === null ? [] : [{ draw, figure }];
  });
  if (value === null || pairs.length < 20) return null;
  const sorted = pairs.map(({ figure }) => figure).sort((a, b) => a - b);
  return {
    value,
    low: quantile(sorted, (1 - CONFIDENCE) / 2),
    high: quantile(sorted, (1 + CONFIDENCE) / 2),
    from: sharesOf(pairs, setup),
  };
}

/** The k-th of n + 1 gaps: with exchangeable draws the next one falls inside as often as it says. */
export function quantile(sorted: readonly number[], share: number): number {
  const at = Math.min(sorted.length, Math.max(1, share * (sorted.length + 1))) - 1;
  const low = Math.floor(at);
  const next = Math.min(sorted.length - 1, low + 1);
  return sorted[low]! + (at - low) * (sorted[next]! - sorted[low]!);
}

/** First-order shares of variance: squared correlation with every deviate, summed by source (independent inputs). */
function sharesOf(pairs: readonly { draw: Kept; figure: number }[], setup: Setup): Band['from'] {
  const figures = pairs.map(({ figure }) => figure);
  const count = pairs[0]!.draw.error.deviates.length;
  const sums = new Map<ErrorSource | 'set position', number>();
  const add = (source: ErrorSource | 'set position', of: (draw: Kept) => number): void => {
    // What chance alone would give, 1 / n, is taken off again.
    const share = Math.max(
      0,
      correlation(
        figures,
        pairs.map(({ draw }) => of(draw)),
      ) **
        2 -
        1 / figures.length,
    );
    sums.set(source, (sums.get(source) ?? 0) + share);
  };
  for (let i = 0; i < count; i++)
    add(pairs[0]!.draw.error.deviates[i]!.source, (draw) => draw.error.deviates[i]!.value);
  add('set position', (draw) => draw.setPositionMm - setup.setPositionMm);
  return [...ERROR_SOURCES, 'set position' as const].map((source) => ({ source, share: sums.get(source) ?? 0 }));
}

function correlation(a: readonly number[], b: readonly number[]): number {
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [ma, mb] = [mean(a), mean(b)];
  let [ab, aa, bb] = [0, 0, 0];
  for (let i = 0; i < a.length; i++) {
    ab += (a[i]! - ma) * (b[i]! - mb);
    aa += (a[i]! - ma) ** 2;
    bb += (b[i]! - mb) ** 2;
  }
  return aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : 0;
}

function sureFindings(here: Reading | null, kept: readonly Kept[]): SureFinding[] {
  const shown = new Set(here === null ? [] : observeAll(here).map(({ code }) => code));
  const counts = new Map<FindingCode, number>([...shown].map((code) => [code, 0]));
  for (const { reading } of kept) {
    for (const code of new Set(observeAll(reading).map((o) => o.code))) counts.set(code, (counts.get(code) ?? 0) + 1);
  }
  return [...counts]
    .map(([code, count]): SureFinding => {
      const share = kept.length === 0 ? 0 : count / kept.length;
      return { code, isShown: shown.has(code), share, isOpen: share > OPEN_FROM && share < 1 - OPEN_FROM };
    })
    .filter(({ isShown, share }) => isShown || share > OPEN_FROM)
    .sort((a, b) => b.share - a.share);
}

/** Which figure decides a finding. */
const DECIDES: Readonly<Partial<Record<FindingCode, readonly BandFigure[]>>> = {
  bridging: ['lengthwiseLeftMm', 'lengthwiseRightMm'],
  rocking: ['lengthwiseLeftMm', 'lengthwiseRightMm'],
  'too-steep': ['slopeFrontDeg', 'slopeRearDeg'],
  'too-flat': ['slopeFrontDeg', 'slopeRearDeg'],
  'blade-under-tip': ['tipGapMm'],
  'pressure-point': ['peakPressureKPa'],
  'low-spine-clearance': ['spineAtForkMm'],
  'inner-edge-bearing': ['slopeFrontDeg', 'slopeRearDeg'],
  'outer-edge-bearing': ['slopeFrontDeg', 'slopeRearDeg'],
  'past-last-rib': ['pitchDeg'],
};

function worthRepeating(findings: readonly SureFinding[], bands: Partial<Record<BandFigure, Band>>): HowSure['repeat'] {
  const total = new Map<ErrorSource | 'set position', number>();
  for (const { code, isOpen } of findings) {
    if (!isOpen) continue;
    for (const figure of DECIDES[code] ?? []) {
      for (const { source, share } of bands[figure]?.from ?? []) total.set(source, (total.get(source) ?? 0) + share);
    }
  }
  return [...total].reduce<[HowSure['repeat'], number]>(
    (best, [source, sum]) => (sum > best[1] ? [source, sum] : best),
    [null, 0],
  )[0];
}

function slopeMismatch({ mismatch }: Reading, which: 0 | -1): number | null {
  const names = [...new Set(mismatch.stations.map(({ name }) => name))];
  const name = names.at(which);
  const at = mismatch.stations.filter((station) => station.name === name);
  return at.length === 0 ? null : at.reduce((sum, { mismatchDeg }) => sum + mismatchDeg, 0) / at.length;
}

function leastTip({ seated }: Reading): number | null {
  const gaps = tipFigures(seated).map(({ bearingGapMm }) => bearingGapMm);
  return gaps.some((gap) => gap === null) ? null : Math.min(...(gaps as number[]));
}
