import { errorFields, numberOrNull } from './envelope-schema.ts';
import { fields, type JsonSchema, list, number, oneOf, orNull, text } from './json-schema.ts';

export const sweepResultSchema: JsonSchema = fields({
  vary: list(fields({ key: text, unit: text, from: number, to: number, step: number, count: number })),
  steps: list(
    fields({
      values: list(number),
      status: oneOf('settled', 'no contact', 'off the data', 'iteration limit', 'refused'),
      areaCm2: numberOrNull,
      meanPressureKPa: numberOrNull,
      p95PressureKPa: numberOrNull,
      peakPressureKPa: numberOrNull,
      shareFront: numberOrNull,
      shareMiddle: numberOrNull,
      shareRear: numberOrNull,
      lengthwiseLeftMm: numberOrNull,
      lengthwiseRightMm: numberOrNull,
      pitchDeg: numberOrNull,
      heightMm: numberOrNull,
      excludedFraction: numberOrNull,
      findings: list(text),
      refused: orNull(errorFields),
    }),
  ),
});
