import { BAND_FIGURE_NAMES, BAND_SOURCES, FINDING_WORDS, type SureFinding } from '@barwright/geometry';
import type { SureResult } from '../commands/sure.ts';
import { about, boolean, fields, type JsonSchema, list, number, oneOf, orNull, text } from './json-schema.ts';

type Fields<Of> = Record<keyof Of, JsonSchema>;

const source = oneOf(...BAND_SOURCES);
const from = about(list(fields({ source, share: number })), 'first-order shares of the variance');

const finding: Fields<SureFinding> = {
  code: oneOf(...Object.keys(FINDING_WORDS)),
  isShown: about(boolean, 'by the measurements as they are'),
  share: about(number, 'of the drawn horses'),
  isOpen: about(boolean, 'more than 5 and fewer than 95 of 100 drawn horses show it'),
  ratio: about(number, 'size over rule, as measured; 0.5 stands for that much or less'),
  ratioLow: number,
  ratioHigh: number,
  from,
  repeat: orNull(source),
  sentence: text,
};

const band = fields({ value: number, low: number, high: number, from });

const result: Fields<SureResult> = {
  pattern: text,
  back: text,
  samples: number,
  draws: number,
  confidence: number,
  seed: number,
  uncertaintyMm: number,
  uncertaintyDeg: number,
  setPositionBandMm: number,
  bands: {
    type: 'object',
    properties: Object.fromEntries(BAND_FIGURE_NAMES.map((name) => [name, band])),
    additionalProperties: false,
  },
  findings: list(fields(finding)),
  repeat: orNull(source),
  lost: about(number, 'drawn horses without result'),
  advice: orNull(text),
};

export const sureResultSchema: JsonSchema = fields(result);
