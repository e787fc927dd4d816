import { InputError, showGot } from '../numeric/input-error.ts';
import { AMBIGUOUS_MEASURES, ambiguousMeasureError, askAboutMeasure, findChoice } from '../units/index.ts';
import { checkDocument } from './check-document.ts';
import { listPatternFields, type PatternField, type StationPlace } from './list-fields.ts';
import { nearNames } from './near-names.ts';
import { PATTERN_SCHEMA, type PatternDocument, patternSchema } from './pattern-schema.ts';

/** Not in the table of fields, because it has no meaning before it is known where it was taken. */
export const GULLET_WIDTH = 'gulletWidth';

/**
 * A pattern document from parsed JSON. Values stay as written; resolvePattern turns them into numbers.
 * Throws InputError: what checkDocument throws, plus unknown-name with near names, ambiguous, inconsistent.
 */
export function readPattern(json: unknown, file?: string): PatternDocument {
  const options = file === undefined ? {} : { file };
  const document = checkDocument(patternSchema, json, { schemaName: PATTERN_SCHEMA, ...options });
  try {
    checkNames(document);
    return document;
  } catch (error) {
    throw error instanceof InputError && file !== undefined ? error.inFile(file) : error;
  }
}

/** Checks that every name in a document means something with its stations. */
export function checkNames(document: PatternDocument): void {
  checkStations(document.stations);
  const fields = listPatternFields(document.stations);
  checkValueNames(document.values, fields, 'values');
  checkLeftValues(document.leftValues, fields, 'leftValues');
  checkAnswers(document.answers);
  if (document.parent !== null) {
    const stations = document.parent.stations ?? document.stations;
    checkStations(stations);
    const parentFields = listPatternFields(stations);
    checkValueNames(document.parent.values, parentFields, 'parent.values');
    checkLeftValues(document.parent.leftValues ?? {}, parentFields, 'parent.leftValues');
  }
}

/** The refusal of a name that no value has: the question behind an ambiguous word, or the nearest names. */
export function unknownValueError(key: string, fields: readonly PatternField[], field: string): InputError {
  const question = askAboutMeasure(key);
  if (question !== null) return ambiguousMeasureError(question, { field });
  const near = nearNames(
    key,
    fields.map((item) => item.key),
  );
  return new InputError({
    code: 'unknown-name',
    field,
    got: showGot(key),
    expected: 'the name of a value of the pattern',
    remedy: near.length > 0 ? `Did you mean ${near.join(', ')}?` : 'See the list of values in the documentation',
  });
}

function checkStations(stations: readonly StationPlace[]): void {
  const names = new Set(stations.map((station) => station.name.toLowerCase()));
  const places = new Set(stations.map((station) => station.atPercent));
  if (names.size === stations.length && places.size === stations.length) return;
  throw new InputError({
    code: 'inconsistent',
    field: 'stations',
    got: stations
      .map((station) => `${station.name} ${station.atPercent} %`)
      .join(', ')
      .slice(0, 200),
    expected: 'every station with its own name and its own place',
    remedy: 'Rename or move one of them',
  });
}

function checkValueNames(values: Readonly<Record<string, unknown>>, fields: readonly PatternField[], place: string) {
  const known = new Set(fields.map((item) => item.key));
  for (const key of Object.keys(values)) {
    if (!known.has(key) && key !== GULLET_WIDTH) throw unknownValueError(key, fields, `${place}.${key}`);
  }
}

function checkLeftValues(values: Readonly<Record<string, unknown>>, fields: readonly PatternField[], place: string) {
  checkValueNames(values, fields, place);
  for (const key of Object.keys(values)) {
    if (fields.some((item) => item.key === key && item.perSide)) continue;
    throw new InputError({
      code: 'unknown-field',
      field: `${place}.${key}`,
      expected: 'a value that one bar can have by itself',
      remedy: `Both bars share ${key}: give it in values`,
    });
  }
}

function checkAnswers(answers: Readonly<Record<string, string>>): void {
  for (const [measure, answer] of Object.entries(answers)) {
    const question = AMBIGUOUS_MEASURES.find((item) => item.measure === measure);
    if (question === undefined) {
      throw new InputError({
        code: 'unknown-field',
        field: `answers.${measure}`,
        expected: `one of ${AMBIGUOUS_MEASURES.map((item) => item.measure).join(', ')}`,
        remedy: 'Remove it; other measures have one meaning',
      });
    }
    if (findChoice(question, answer) === null) {
      throw ambiguousMeasureError(question, { field: `answers.${measure}`, got: showGot(answer) });
    }
  }
}
