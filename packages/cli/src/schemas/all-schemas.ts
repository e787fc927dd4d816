import {
  backJsonSchema,
  benchJsonSchema,
  lessonJsonSchema,
  numbersJsonSchema,
  patternJsonSchema,
  riderJsonSchema,
  ridingJsonSchema,
  setupJsonSchema,
  shelfJsonSchema,
} from '@barwright/geometry';
import { BACK_RESULT_SCHEMA } from '../commands/back.ts';
import { CHECK_RESULT_SCHEMA } from '../commands/check.ts';
import { COMPARE_RESULT_SCHEMA } from '../commands/compare.ts';
import { CHANGES_RESULT_SCHEMA } from '../commands/compare-backs.ts';
import { DRAW_RESULT_SCHEMA } from '../commands/draw.ts';
import { FIT_RESULT_SCHEMA } from '../commands/fit.ts';
import { FLEX_RESULT_SCHEMA } from '../commands/flex.ts';
import { MEASURE_RESULT_SCHEMA } from '../commands/measure.ts';
import { REACH_RESULT_SCHEMA } from '../commands/reach.ts';
import { RIDE_RESULT_SCHEMA, RIDING_SETS_SCHEMA } from '../commands/ride.ts';
import { SHEET_RESULT_SCHEMA } from '../commands/sheet.ts';
import { SHOULDER_RESULT_SCHEMA } from '../commands/shoulder.ts';
import { SIZE_RESULT_SCHEMA } from '../commands/size.ts';
import { SURE_RESULT_SCHEMA } from '../commands/sure.ts';
import { SWEEP_RESULT_SCHEMA } from '../commands/sweep.ts';
import { ERROR_SCHEMA } from '../output/report-error.ts';
import { backResultSchema } from './back-result-schema.ts';
import { checkResultSchema } from './check-result-schema.ts';
import { changesResultSchema } from './compare-backs-schema.ts';
import { compareResultSchema } from './compare-result-schema.ts';
import { drawResultSchema } from './draw-result-schema.ts';
import { envelopeSchema, errorFields, requirementsSchema } from './envelope-schema.ts';
import { fitResultSchema } from './fit-result-schema.ts';
import { flexResultSchema } from './flex-result-schema.ts';
import { fields, published } from './json-schema.ts';
import { measureResultSchema } from './measure-result-schema.ts';
import { reachResultSchema } from './reach-result-schema.ts';
import { rideResultSchema, ridingSetsSchema } from './ride-result-schema.ts';
import { sheetResultSchema } from './sheet-result-schema.ts';
import { shoulderResultSchema } from './shoulder-result-schema.ts';
import { sizeResultSchema } from './size-result-schema.ts';
import { sureResultSchema } from './sure-result-schema.ts';
import { sweepResultSchema } from './sweep-result-schema.ts';

/** Every published JSON Schema by the name that `schema` takes. */
export const SCHEMAS: Readonly<Record<string, () => unknown>> = Object.freeze({
  pattern: patternJsonSchema,
  back: backJsonSchema,
  setup: setupJsonSchema,
  riding: ridingJsonSchema,
  rider: riderJsonSchema,
  shelf: shelfJsonSchema,
  lesson: lessonJsonSchema,
  bench: benchJsonSchema,
  numbers: numbersJsonSchema,
  'fit-result': () => envelopeSchema(FIT_RESULT_SCHEMA, fitResultSchema, { requirements: requirementsSchema }),
  'sweep-result': () => envelopeSchema(SWEEP_RESULT_SCHEMA, sweepResultSchema),
  'shoulder-result': () =>
    envelopeSchema(SHOULDER_RESULT_SCHEMA, shoulderResultSchema, { requirements: requirementsSchema }),
  'ride-result': () => envelopeSchema(RIDE_RESULT_SCHEMA, rideResultSchema),
  'flex-result': () => envelopeSchema(FLEX_RESULT_SCHEMA, flexResultSchema),
  'riding-sets': () => envelopeSchema(RIDING_SETS_SCHEMA, ridingSetsSchema),
  'size-result': () => envelopeSchema(SIZE_RESULT_SCHEMA, sizeResultSchema),
  'reach-result': () => envelopeSchema(REACH_RESULT_SCHEMA, reachResultSchema),
  'sure-result': () => envelopeSchema(SURE_RESULT_SCHEMA, sureResultSchema),
  'measure-result': () => envelopeSchema(MEASURE_RESULT_SCHEMA, measureResultSchema),
  'back-result': () => envelopeSchema(BACK_RESULT_SCHEMA, backResultSchema),
  'changes-result': () => envelopeSchema(CHANGES_RESULT_SCHEMA, changesResultSchema),
  'compare-result': () => envelopeSchema(COMPARE_RESULT_SCHEMA, compareResultSchema),
  'sheet-result': () => envelopeSchema(SHEET_RESULT_SCHEMA, sheetResultSchema),
  'draw-result': () => envelopeSchema(DRAW_RESULT_SCHEMA, drawResultSchema),
  'check-result': () => envelopeSchema(CHECK_RESULT_SCHEMA, checkResultSchema),
  error: () => published(ERROR_SCHEMA, fields({ schema: { const: ERROR_SCHEMA }, error: errorFields })),
});
