import { type BackSurface, type Lift, sumOfLifts } from '../back/index.ts';
import type { Tree } from '../bar/index.ts';
import type { Reading } from '../findings/index.ts';
import { seededRandom } from '../numeric/index.ts';
import type { Pose, Setup } from '../seating/index.ts';
import {
  type BandSource,
  bandEnds,
  CONFIDENCE,
  type DrawnInput,
  LEAST_DRAWS,
  largestSource,
  type SourceShares,
  sharesOf,
} from './how-sure-bands.ts';
import { BAND_FIGURE_NAMES, BAND_FIGURES, type BandFigure } from './how-sure-figures.ts';
import { type SureFinding, sureFindings } from './how-sure-findings.ts';
import { drawError, type SourceScale } from './measuring-error.ts';
import { type RuleRatios, ruleRatios } from './reach-ratio.ts';
import { readAgainst } from './tree-against-read.ts';

export interface Band {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly from: SourceShares;
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
  /** The measurement whose repeat narrows the open findings most, taken together; null when nothing is open. */
  readonly repeat: BandSource | null;
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
  /** What if some sources were surer: factors on their standard deviations, on the same draws. */
  readonly sdScale?: SourceScale;
}

export const HOW_SURE_DEFAULTS = Object.freeze({ draws: 200, seed: 1, samples: 1500 });

interface Draw {
  readonly inputs: readonly DrawnInput[];
  readonly figures: Readonly<Record<BandFigure, number | null>>;
  readonly ratios: RuleRatios;
}

/**
 * Draws horses that these measurements could have come from, and set positions within the rules' band, and settles the
 * tree on each: yields the number done, returns bands from the 2.5th to the 97.5th of 100 (from 20 draws on). The horse's
 * error is taken off the tree (treeAgainst), so every draw runs on the same charts.
 *
 * What a band means: of many different horses measured like this one, about 95 of 100 have the figure within their band
 * (tested). About one very well matched horse measured again and again it misses more often in peak and tip figures,
 * because every error of measuring makes a match look worse, never better: docs/decisions/012-how-sure.md has numbers.
 */
export function* howSure(
  tree: Tree,
  back: BackSurface,
  setup: Setup,
  options: HowSureOptions = {},
): Generator<number, HowSure> {
  const { draws, seed, samples } = { ...HOW_SURE_DEFAULTS, ...options };
  const random = seededRandom(seed);
  const coarse: Setup = { ...setup, samples, path: 'fast' };
  const { sdScale = {} } = options;
  const known = options.measuredLift === undefined ? [] : [options.measuredLift];
  const here = readDrawn(tree, known, back, coarse, null);
  let start: Pose | null = here?.seated.seat.pose ?? null;
  const kept: Draw[] = [];
  for (let i = 0; i < draws; i++) {
    const error = drawError(back, random, sdScale);
    const off = setup.rules.setPositionBandMm * (2 * random() - 1) * (sdScale['set position'] ?? 1);
    const moved = { ...coarse, setPositionMm: coarse.setPositionMm + off };
    const near = start === null ? null : { ...start, xMm: start.xMm + off };
    const drawn = readDrawn(tree, [...known, error.lift], back, moved, near);
    if (drawn !== null) {
      const { pose } = drawn.seated.seat;
      start ??= { ...pose, xMm: pose.xMm - off };
      kept.push(toDraw(drawn, [...error.deviates, { source: 'set position', value: off }]));
    }
    yield i + 1;
  }
  const bands = here === null ? {} : bandsOf(toDraw(here, []), kept);
  const findings = here === null ? [] : sureFindings(ruleRatios(here), kept);
  return {
    draws,
    confidence: CONFIDENCE,
    seed,
    uncertaintyMm: back.measured.uncertaintyMm,
    uncertaintyDeg: back.measured.uncertaintyDeg,
    setPositionBandMm: setup.rules.setPositionBandMm,
    bands,
    findings,
    repeat: largestSource(findings.filter(({ isOpen }) => isOpen).map(({ from }) => from)),
    lost: draws - kept.length,
  };
}

function readDrawn(
  tree: Tree,
  lifts: readonly Lift[],
  back: BackSurface,
  setup: Setup,
  start: Pose | null,
): Reading | null {
  const reading = readAgainst(tree, lifts.length === 0 ? null : sumOfLifts(lifts), back, setup, start);
  return reading.seated.status === 'settled' ? reading : null;
}

/** Only what is summed up is kept of a draw, not its cells. */
function toDraw(reading: Reading, inputs: readonly DrawnInput[]): Draw {
  const figures = Object.fromEntries(BAND_FIGURE_NAMES.map((name) => [name, BAND_FIGURES[name](reading)]));
  return { inputs, figures: figures as Draw['figures'], ratios: ruleRatios(reading) };
}

function bandsOf(here: Draw, kept: readonly Draw[]): HowSure['bands'] {
  const bands: Partial<Record<BandFigure, Band>> = {};
  for (const name of BAND_FIGURE_NAMES) {
    const value = here.figures[name];
    const known = kept.filter(({ figures }) => figures[name] !== null);
    if (value === null || known.length < LEAST_DRAWS) continue;
    const figures = known.map((draw) => draw.figures[name]!);
    const [low, high] = bandEnds(figures);
    bands[name] = {
      value,
      low,
      high,
      from: sharesOf(
        figures,
        known.map(({ inputs }) => inputs),
      ),
    };
  }
  return bands;
}
