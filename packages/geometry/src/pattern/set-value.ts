import { InputError, showGot } from '../numeric/input-error.ts';
import { AMBIGUOUS_MEASURES, askAboutMeasure } from '../units/index.ts';
import { foremostSpread, spreadDrivenByGullet } from './gullet-width.ts';
import { listPatternFields, type PatternField, stationKey } from './list-fields.ts';
import type { PatternDocument, PatternValue } from './pattern-schema.ts';
import { GULLET_WIDTH, readPattern, unknownValueError } from './read-pattern.ts';
import { resolvePattern } from './resolve-pattern.ts';

/** Written instead of a value to go back to the field's default. */
export const DEFAULT_WORD = 'default';

/**
 * A new document with one value changed; the given one stays as it is.
 * Keys: any value (`length`), `left.` and a value for the left bar alone, `answers.gulletWidth`, `materials.bar`, `name`,
 * `notes`. `gulletWidth` may carry its place: "6 1/2 in at hand hole". The word "default" takes a value out.
 * A changed spread carries the whole bar sideways: an inset that was never written is kept at what it was.
 * Throws InputError: unknown-name with near names, ambiguous with the question, and all that resolving throws.
 */
export function setPatternValue(document: PatternDocument, key: string, value: PatternValue): PatternDocument {
  return setPatternValues(document, [[key, value]]);
}

/** Several changes at once; only the outcome has to hold together. */
export function setPatternValues(
  document: PatternDocument,
  changes: Iterable<readonly [string, PatternValue]>,
): PatternDocument {
  let next = document;
  for (const [key, value] of changes) next = applyChange(next, key, value);
  const checked = readPattern(next);
  resolvePattern(checked);
  return checked;
}

function applyChange(document: PatternDocument, key: string, value: PatternValue): PatternDocument {
  const [head, ...rest] = key.split('.');
  const tail = rest.join('.');
  if (key === 'name' || key === 'notes') return { ...document, [key]: String(value) };
  if (head === 'answers' && tail !== '') return setAnswer(document, tail, String(value));
  if (head === 'materials' && tail !== '')
    return { ...document, materials: assign(document.materials, tail, String(value)) };
  const fields = listPatternFields(document.stations);
  if (head === 'left' && tail !== '') return setLeft(document, findField(fields, tail, key), value);
  if (askAboutMeasure(key)?.measure === GULLET_WIDTH) return setGulletWidth(document, value);
  return setRight(document, findField(fields, key, key), value);
}

function findField(fields: readonly PatternField[], name: string, key: string): PatternField {
  const field = fields.find((item) => item.key === name);
  if (field === undefined) throw unknownValueError(name, fields, key);
  return field;
}

function setRight(document: PatternDocument, field: PatternField, value: PatternValue): PatternDocument {
  const kept = field.quantity === 'spread' && value !== DEFAULT_WORD ? keepInset(document, field.station!) : document;
  const values = assign(kept.values, field.key, value);
  // The spread said last replaces a gullet width that stood for the same thing.
  return spreadDrivenByGullet(document) === field.key
    ? { ...kept, values: remove(values, GULLET_WIDTH), answers: remove(kept.answers, GULLET_WIDTH) }
    : { ...kept, values };
}

function setLeft(document: PatternDocument, field: PatternField, value: PatternValue): PatternDocument {
  const kept =
    field.quantity === 'spread' && value !== DEFAULT_WORD ? keepLeftInset(document, field.station!) : document;
  return { ...kept, leftValues: assign(kept.leftValues, field.key, value) };
}

function setAnswer(document: PatternDocument, measure: string, answer: string): PatternDocument {
  return withoutSecondSpread({ ...document, answers: assign(document.answers, measure, answer) });
}

function setGulletWidth(document: PatternDocument, value: PatternValue): PatternDocument {
  if (value === DEFAULT_WORD) {
    return {
      ...document,
      values: remove(document.values, GULLET_WIDTH),
      answers: remove(document.answers, GULLET_WIDTH),
    };
  }
  const { width, answer } = splitPlace(value);
  const answers = answer === null ? document.answers : assign(document.answers, GULLET_WIDTH, answer);
  return withoutSecondSpread({ ...document, answers, values: assign(document.values, GULLET_WIDTH, width) });
}

/** "6 1/2 in at hand hole" into the width and the answer. */
function splitPlace(value: PatternValue): { width: PatternValue; answer: string | null } {
  if (typeof value === 'number') return { width: value, answer: null };
  const choices = AMBIGUOUS_MEASURES.find((item) => item.measure === GULLET_WIDTH)!.choices;
  const found = choices.find((choice) => value.trim().endsWith(` ${choice.id}`));
  if (found === undefined) return { width: value, answer: null };
  return { width: tidy(value.trim().slice(0, -found.id.length).trim()), answer: found.id };
}

/** A gullet width that stands for the foremost spread takes its place. */
function withoutSecondSpread(document: PatternDocument): PatternDocument {
  const driven = spreadDrivenByGullet(document);
  if (driven === null || !Object.hasOwn(document.values, driven)) return document;
  const first = listPatternFields(document.stations).find((field) => field.key === foremostSpread(document.stations))!;
  const before = { ...document, values: remove(document.values, GULLET_WIDTH) };
  const kept = keepInset(before, first.station!);
  return { ...document, values: { ...remove(document.values, driven), ...pick(kept.values, first.station!) } };
}

function pick(values: PatternDocument['values'], station: string): PatternDocument['values'] {
  const key = stationKey('bearingInset', station);
  return Object.hasOwn(values, key) ? { [key]: values[key]! } : {};
}

function keepInset(document: PatternDocument, station: string): PatternDocument {
  const key = stationKey('bearingInset', station);
  if (Object.hasOwn(document.values, key)) return document;
  const inset = resolvePattern(document).values[key] as number;
  return { ...document, values: { ...document.values, [key]: inset } };
}

function keepLeftInset(document: PatternDocument, station: string): PatternDocument {
  const key = stationKey('bearingInset', station);
  if (Object.hasOwn(document.values, key) || Object.hasOwn(document.leftValues, key)) return document;
  const inset = resolvePattern(document).leftValues[key] as number;
  return { ...document, leftValues: { ...document.leftValues, [key]: inset } };
}

function assign<Value extends PatternValue>(
  record: Readonly<Record<string, Value>>,
  key: string,
  value: Value,
): Record<string, Value> {
  if (key === '__proto__' || key === 'constructor' || key === 'prototype') {
    throw new InputError({
      code: 'forbidden',
      field: key,
      got: showGot(value),
      expected: 'the name of a value',
      remedy: 'Use a name of the pattern',
    });
  }
  return value === DEFAULT_WORD ? remove(record, key) : { ...record, [key]: tidy(value) };
}

/** Bare decimal text is stored as the number it is. */
function tidy<Value extends PatternValue>(value: Value): Value {
  const isBare = typeof value === 'string' && /^-?\d{1,15}(?:\.\d{1,15})?$/.test(value);
  return (isBare ? Number(value) : value) as Value;
}

function remove<Value>(record: Readonly<Record<string, Value>>, key: string): Record<string, Value> {
  return Object.fromEntries(Object.entries(record).filter(([name]) => name !== key));
}
