export { type Band, HOW_SURE_DEFAULTS, type HowSure, type HowSureOptions, howSure } from './how-sure.ts';
export { BAND_SOURCES, type BandSource, bandEnds, quantile, type SourceShares } from './how-sure-bands.ts';
export { BAND_FIGURE_NAMES, BAND_FIGURES, type BandFigure } from './how-sure-figures.ts';
export { repeatWords, type SureFinding } from './how-sure-findings.ts';
export {
  type DrawnError,
  drawError,
  ERROR_SOURCES,
  type ErrorSource,
  SIGMAS_STATED,
  type SourceScale,
} from './measuring-error.ts';
export {
  REACH_DEFAULTS,
  type Reach,
  type ReachAxis,
  type ReachError,
  type ReachLimit,
  type ReachOptions,
  type ReachOrigin,
  radiusOfSag,
  reachOf,
  reachSteps,
} from './reach.ts';
export { type BackChangeStep, type Chord, liftOfStep } from './reach-lift.ts';
export type { ReachNode } from './reach-node.ts';
export { furthest, LEAST_RATIO, type RuleRatios } from './reach-ratio.ts';
export { ratiosAt, type SteppedGrid } from './reach-within.ts';
export { ellipseScale, reachSentences } from './reach-words.ts';
export { type Rider, type RiderDocument, readRider, riderJsonSchema, riderSchema } from './rider-schema.ts';
export { SEAT_TABLE, SEAT_TABLE_SOURCE, type SeatRange, type SeatRow, seatRange } from './seat-range.ts';
export {
  listChoices,
  readShelf,
  type Shelf,
  type ShelfChoice,
  type ShelfDocument,
  shelfJsonSchema,
  shelfSchema,
} from './shelf-schema.ts';
export {
  type SizeCapacity,
  type SizeCase,
  type SizeCell,
  type SizeFinding,
  setupOfCell,
  sizeCell,
} from './size-cell.ts';
export { NEAR_RATIO, type SizeInput, type SizeResult, type SizeRow, sizeShelf } from './size-shelf.ts';
export { heldPressureKPa, TIME_CURVE_CAUTION } from './time-curve.ts';
export { treeAgainst } from './tree-against.ts';
