export { rideStride, type StridePhase, type StrideResult, type TipOverStride, tipEdgeGapMm } from './ride-stride.ts';
export {
  MOST_LIFT_MM,
  type SolveTipOptions,
  solveTip,
  type TipOption,
  type TipSolution,
  withFrontTip,
} from './solve-tip.ts';
export { bladesAt, createStridingBack, STRIDE_PHASES, type Stride, strideOf } from './stride.ts';
