import type { BackSurface } from '../back/index.ts';
import type { Tree } from '../bar/index.ts';
import { type Setup, seatTree } from '../seating/index.ts';
import { COVER_SHIFTS, type CoverRow, coverTable } from './cover.ts';
import { type GiveFigures, withBars } from './give-figures.ts';
import { giveSentences, limitSentence } from './give-words.ts';
import { type LoadedShape, loadedShape } from './loaded-shape.ts';
import { type PartRow, partsCount, partsTable } from './parts-table.ts';
import { RIDE_GIVE_FACTORS, type RideGiveRow, rideGive } from './ride-give.ts';
import { curvesAssumed, WARM_UP_DEFAULTS, type WarmUpRow, warmUp } from './warm-up.ts';

/** Everything that flexible bars do to one pair. Rows that are not worked out yet are missing at the end of their lists. */
export interface GiveStudy {
  readonly rigid: GiveFigures | null;
  readonly flexible: GiveFigures | null;
  readonly loadedShape: LoadedShape | null;
  readonly parts: readonly PartRow[];
  readonly warmUp: { readonly minutes: readonly WarmUpRow[]; readonly hours: readonly WarmUpRow[] };
  readonly cover: readonly CoverRow[];
  readonly rideGive: readonly RideGiveRow[];
  /** Three sentences from this pair's own numbers. */
  readonly reading: readonly string[];
  /** What the model leaves out, then every curve that the results rest on, by name and source. */
  readonly assumptions: readonly string[];
}

/** Rows that studyGive works out. */
export const giveSteps = (tree: Tree, setup: Setup): number =>
  partsCount(tree, setup) +
  WARM_UP_DEFAULTS.minutes.length +
  WARM_UP_DEFAULTS.hours.length +
  COVER_SHIFTS.length +
  RIDE_GIVE_FACTORS.length;

/** Works everything out, row by row, yielding the study as far as it has come. */
export function* studyGive(tree: Tree, back: BackSurface, setup: Setup): Generator<GiveStudy, GiveStudy> {
  const own = withBars(setup, 'flexible');
  let study: GiveStudy = {
    rigid: null,
    flexible: null,
    loadedShape: loadedShape(seatTree(tree, back, own)),
    parts: [],
    warmUp: { minutes: [], hours: [] },
    cover: [],
    rideGive: [],
    reading: [],
    assumptions: curvesAssumed(tree, own),
  };
  for (const row of partsTable(tree, back, own)) {
    study = withPart(study, row, own.rules.lengthwiseMm);
    yield study;
  }
  for (const row of warmUp(tree, back, own, { hours: [] })) {
    study = { ...study, warmUp: { ...study.warmUp, minutes: [...study.warmUp.minutes, row] } };
    yield study;
  }
  for (const row of warmUp(tree, back, own, { minutes: [] })) {
    study = { ...study, warmUp: { ...study.warmUp, hours: [...study.warmUp.hours, row] } };
    yield study;
  }
  for (const row of coverTable(tree, back, own)) {
    study = { ...study, cover: [...study.cover, row] };
    yield study;
  }
  for (const row of rideGive(tree, back, own)) {
    study = { ...study, rideGive: [...study.rideGive, row] };
    yield study;
  }
  return study;
}

function withPart(study: GiveStudy, row: PartRow, bridgesFromMm: number): GiveStudy {
  const flexible = row.part === 'as built' ? row.figures : study.flexible;
  const rigid = row.part === 'rigid bars' ? row.figures : study.rigid;
  const isFirstPair = study.reading.length === 0 && rigid !== null && flexible !== null;
  const reading = isFirstPair ? giveSentences(rigid, flexible, study.loadedShape!, bridgesFromMm) : study.reading;
  const assumptions = isFirstPair ? [limitSentence(flexible), ...study.assumptions] : study.assumptions;
  return { ...study, flexible, rigid, reading, assumptions, parts: [...study.parts, row] };
}
