export { applyShims, shimTree, withoutShims } from './apply-shims.ts';
export {
  bearingCapacity,
  CAPACITY_POSITIONS,
  type Capacity,
  coreProjectionMm2,
  type SolvedCapacity,
} from './capacity.ts';
export {
  assembleEquilibrium,
  type ContactBody,
  createEquilibrium,
  type Equilibrium,
  type Load,
  placePoints,
  queryFeet,
} from './contact-energy.ts';
export { areaQuantile, type ContactFigures, contactFigures } from './contact-figures.ts';
export {
  type BarGive,
  type FlexFigures,
  type FlexZone,
  flexFigures,
  type TipGive,
  zoneLoads,
} from './flex-figures.ts';
export { groundSeatOf, type SolidsUsed, type SolidUsed, solidsInUse, solidsOf } from './flex-of.ts';
export type { FlexState } from './flexible-look.ts';
export { type GapFigures, gapFigures } from './gap-figures.ts';
export { type BarProfile, lengthwiseProfile } from './lengthwise-profile.ts';
export { downwardNewtons, loadNewtons, loadPoint, loadsOf } from './loads.ts';
export { type MaterialUsed, materialsUsed } from './materials-used.ts';
export { bearingEnds, type Mismatch, measureMismatch, type StationMismatch } from './mismatch.ts';
export { peakOverDisc } from './peak-over-disc.ts';
export { barToHorse, FREEDOMS, type Freedom, LEVER_MM, movePose, type Pose, SEATING_FREEDOMS } from './pose.ts';
export { type PressedCells, pressCells } from './press-cells.ts';
export { type Place, type Probe, probeTree } from './probe-tree.ts';
export { readSetup, setupJsonSchema } from './read-setup.ts';
export { FACET_TOLERANCE, type Seat, type SeatOptions, type SeatStatus, SMOOTH_TOLERANCE, seatBody } from './seat.ts';
export { type FlexibleSeat, seatFlexible } from './seat-flexible.ts';
export { type SeatedFlex, type SeatedTree, type SeatTreeOptions, seatTree } from './seat-tree.ts';
export { type Rules, SETUP_DEFAULTS, type Setup, type SetupDocument, setupSchema } from './setup-schema.ts';
export { type Shim, shimsSchema, shimWords } from './shim-schema.ts';
export { type SpineClearance, spineClearance } from './spine-clearance.ts';
export { stackOf } from './stack-of.ts';
export { type TipFigures, tipFigures } from './tip-figures.ts';
