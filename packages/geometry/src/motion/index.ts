export { COVER_SHIFTS, type CoverRow, type CoverShift, coverTable, coverTree } from './cover.ts';
export { type GiveFigures, giveFigures, readGive, withBars } from './give-figures.ts';
export { type GiveStudy, giveSteps, studyGive } from './give-study.ts';
export { giveSentences, limitSentence } from './give-words.ts';
export { type LoadedShape, type LoadedStation, loadedShape } from './loaded-shape.ts';
export { type PartRow, partsCount, partsTable } from './parts-table.ts';
export { holdPosture, type Posture, STANDING_SQUARE } from './posture.ts';
export { backOfCase, type CaseBacks, createCaseBacks, type RiddenCase, rideCase, setupOfCase } from './ride-case.ts';
export { RIDE_GIVE_FACTORS, type RideGiveRow, rideGive } from './ride-give.ts';
export {
  rideStride,
  type StridePhase,
  type StrideResult,
  type StrideStep,
  stepStride,
  summariseStride,
  type TipOverStride,
  tipEdgeGapMm,
} from './ride-stride.ts';
export {
  type Riding,
  type RidingCase,
  type RidingDocument,
  readRiding,
  ridingCaseSchema,
  ridingJsonSchema,
  ridingSchema,
} from './riding-schema.ts';
export { RIDING_SETS } from './riding-sets.ts';
export {
  MOST_LIFT_MM,
  type SolveTipOptions,
  solveTip,
  type TipOption,
  type TipSolution,
  withFrontTip,
} from './solve-tip.ts';
export { bladesAt, createStridingBack, STRIDE_PHASES, type Stride, strideOf } from './stride.ts';
export { curvesAssumed, WARM_UP_DEFAULTS, type WarmUpOptions, type WarmUpRow, warmUp } from './warm-up.ts';
