export {
  alterTree,
  withBearingLineAt,
  withFlare,
  withLength,
  withRock,
  withSlopes,
  withStationSlopes,
  withWiderSpread,
} from './alter-tree.ts';
export {
  BENCH_LIMITS,
  BENCH_SCHEMA,
  type BenchDocument,
  benchJsonSchema,
  benchSchema,
  type CarriedBack,
  type ReadBench,
  readBench,
} from './bench-file.ts';
export { CauseSearch, seatAndLay, type ToldCause } from './causes.ts';
export { CAUTIONS, type Caution } from './cautions.ts';
export {
  type ComparedFit,
  compareFindings,
  compareFits,
  type FindingChange,
  type FindingMove,
  SAME_SIZE_MM,
} from './compare-fits.ts';
export { type FindOptions, findAll } from './find-all.ts';
export { FINDING_WORDS } from './find-cannot-tell.ts';
export { observeAll } from './finding-table.ts';
export { type Fit, type FitDetail, type FitOptions, fitTree } from './fit.ts';
export { type FitDocuments, fitDocuments, prepareFit } from './fit-documents.ts';
export { type FitPatternOptions, fitPatternToBack } from './fit-pattern-to-back.ts';
export type { Cause, CauseName, Finding, FindingCode, FitResult } from './fit-result.ts';
export {
  BEARING_LINE_MM,
  fitSlopes,
  fittedRock,
  fittedSetPosition,
  type SlopeFit,
  usableBarLength,
} from './fitted-values.ts';
export {
  LESSON_SCHEMA,
  type LessonAsk,
  type LessonDocument,
  type LessonStep,
  lessonFiles,
  lessonJsonSchema,
  lessonSchema,
  readLesson,
} from './lesson-schema.ts';
export { mirrorMeanBack, mirrorMeanField } from './mirror-mean-back.ts';
export type { Observation } from './observation.ts';
export { besidePublished, PUBLISHED_WALK_KPA } from './published-pressure.ts';
export { type Reading, readTree } from './reading.ts';
export { summariseFit } from './summarise-fit.ts';
export type { Situation, Suspect } from './suspects.ts';
