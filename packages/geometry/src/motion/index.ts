export { holdPosture, type Posture, STANDING_SQUARE } from './posture.ts';
export { backOfCase, type CaseBacks, createCaseBacks, type RiddenCase, rideCase, setupOfCase } from './ride-case.ts';
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
