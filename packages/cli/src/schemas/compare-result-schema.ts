import type { FindingChange } from '@barwright/geometry';
import type { ComparedOne, CompareResult, Comparison, InputDifference } from '../commands/compare.ts';
import { COMPARED_FIGURES } from '../output/compare-figures.ts';
import { inputRecordSchema, numberOrNull } from './envelope-schema.ts';
import { about, anyOf, boolean, fields, type JsonSchema, list, nothing, number, oneOf, text } from './json-schema.ts';

type Fields<Of> = Record<keyof Of, JsonSchema>;

const one: Fields<ComparedOne> = {
  label: about(text, 'A for the first, which the others are held against'),
  title: text,
  status: oneOf('settled', 'no contact', 'off the data', 'iteration limit'),
  inputs: list(inputRecordSchema),
  figures: fields(Object.fromEntries(COMPARED_FIGURES.map(({ name }) => [name, numberOrNull]))),
  findings: list(text),
};

const value = anyOf(number, text, boolean, nothing);

const difference: Fields<InputDifference> = {
  key: text,
  side: oneOf('both', 'left', 'right'),
  unit: text,
  before: value,
  after: value,
  delta: numberOrNull,
};

const finding: Fields<FindingChange> = {
  code: text,
  side: oneOf('left', 'right', 'both'),
  change: oneOf('comes', 'goes', 'grows', 'shrinks', 'stays'),
  beforeMm: numberOrNull,
  afterMm: numberOrNull,
  withinMeasuringError: boolean,
};

const comparison: Fields<Comparison> = {
  before: text,
  after: text,
  inputs: list(fields(difference)),
  figures: list(fields({ name: text, delta: numberOrNull })),
  findings: list(fields(finding)),
  sentences: list(text),
};

const result: Fields<CompareResult> = { fits: list(fields(one)), comparisons: list(fields(comparison)) };

export const compareResultSchema: JsonSchema = fields(result);
