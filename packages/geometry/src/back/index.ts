export { type BackRecord, backRecordSchema, withoutOwner } from './back-record.ts';
export { REMEASURE_MONTHS, type RemeasureDue, remeasureDue } from './back-record-due.ts';
export {
  type BackSurface,
  type Landmarks,
  type Measured,
  type PathAccuracy,
  type Vec3,
  viewOn,
} from './back-surface.ts';
export { AVERAGE_BLADE, type BladePositions, type Blades, moveBlades, STANDING } from './blades.ts';
export { type BackSources, buildBack, type LegForward, putLegsForward } from './build-back.ts';
export { buildScanBack, type ScanBackOptions, type ScanBackReport } from './build-scan-back.ts';
export { buildSectionsBack } from './build-sections-back.ts';
export { buildTracingsBack, type TracingsBackReport } from './build-tracings-back.ts';
export {
  CLEAN_SCAN_DEFAULTS,
  type CleanScanOptions,
  type CleanStepReport,
  cleanScan,
} from './clean-scan.ts';
export { CLEAN_STEPS, type CleanStep } from './clean-steps.ts';
export {
  type BackComparison,
  COMPARE_DEFAULTS,
  type CompareBacksOptions,
  type CompareRegion,
  type CompareRow,
  compareBacks,
  type KeepOut,
} from './compare-backs.ts';
export type { BackMotion } from './compare-backs-align.ts';
export {
  type BackChange,
  type ChangeReading,
  changeOfBack,
  type HorseFacts,
  type RegionChange,
} from './compare-backs-change.ts';
export { type AssumedValue, assumedValues, isMeasuredSlope } from './few-numbers-assumed.ts';
export {
  backFromFewNumbers,
  FEW_NUMBERS_REASON,
  FEW_NUMBERS_UNCERTAINTY,
  type FewNumbers,
} from './few-numbers-back.ts';
export {
  type GivenNumber,
  NUMBER_NAMES,
  NUMBERS_SCHEMA,
  type NumberName,
  type NumbersDocument,
  type NumbersRead,
  numbersJsonSchema,
  readFewNumbers,
} from './few-numbers-read.ts';
export { type Lift, type MovedPatch, patchLift, sumOfLifts } from './lift.ts';
export { measurePathAccuracy } from './measure-path-accuracy.ts';
export { type ScanOverrides, scanDocumentFromProposal } from './propose-document.ts';
export { LANDMARK_NAMES, type LandmarkProposals } from './propose-landmarks.ts';
export type { Alternative, Axis, Confidence, Proposal } from './propose-part.ts';
export {
  type MidplaneFound,
  type ProposableScan,
  proposeScan,
  type ScanHints,
  type ScanProposal,
} from './propose-scan.ts';
export { SIDES_CHOICES, type SidesChoice } from './propose-sides.ts';
export { proposeUnit, SCAN_SIZES, type ScanUnit } from './propose-unit.ts';
export { type BackDocument, backJsonSchema, readBack } from './read-back.ts';
export { type ScanBackDocument, scanBackSchema } from './scan-schema.ts';
export { LEAST_CLOUD_POINTS, type ScanPlace, scanSurface, WIDEST_CLOUD_CELL_MM } from './scan-surface.ts';
export { createSectionHeight, type SectionHeight } from './section-height.ts';
export { type SectionsBackDocument, sectionsBackSchema } from './sections-schema.ts';
export { createSurfaceJet, type SurfaceJet } from './surface-jet.ts';
export { checkTracings, type PreparedTracings, prepareTracings } from './tracings-check.ts';
export type { LengthwiseCurve } from './tracings-curves.ts';
export type { TracingChoice, TracingQuestion } from './tracings-questions.ts';
export { type TracingsBackDocument, tracingsBackSchema } from './tracings-schema.ts';
export type { TracedStation } from './tracings-stations.ts';
export { gapsBetween, type StationGap, uncertaintyIn } from './tracings-uncertainty.ts';
