import {
  type AssumedValue,
  assumedValues,
  type FewNumbers,
  InputError,
  type InputErrorDetails,
  NUMBERS_SCHEMA,
  readFewNumbers,
  type SectionsBackDocument,
} from '@barwright/geometry';
import type { Units } from '../../look/format.ts';
import { NUMBERS_TEXTS } from '../../look/texts/numbers.ts';
import { NOT_STATED, recordOf } from '../record-draft.ts';
import { type NumberKey, neededKeys, PLACES, type ReadNumber, readNumber, type Sheet } from './number-fields.ts';

/** What the sheet comes to at this moment. */
export interface SheetRead {
  /** The value used, mm, degrees or kg: as written, or an average horse's while nothing is. */
  readonly values: Readonly<Partial<Record<NumberKey, number>>>;
  readonly isGiven: (key: NumberKey) => boolean;
  readonly faults: Readonly<Partial<Record<NumberKey, InputErrorDetails>>>;
  readonly missing: readonly NumberKey[];
  /** The back as far as it is known, or null where the numbers don't go together. */
  readonly back: { readonly document: SectionsBackDocument; readonly numbers: FewNumbers } | null;
  readonly assumed: readonly AssumedValue[];
}

/** Drawn while a number has not been given: an average back, from memory, no source. Never kept. */
const AVERAGE = {
  usableLength: 450,
  withersDepth: 75,
  slopeFront: 44,
  slopeWaist: 34,
  slopeRear: 25,
  dip: 35,
  sag: 25,
};
const NOT_YET = { name: NUMBERS_TEXTS.notNamed, by: NOT_STATED, on: '2000-01-01' };

export function readSheet(sheet: Sheet, units: Units): SheetRead {
  const keys: NumberKey[] = [...neededKeys(sheet), 'withersDepth', 'withersHeight', 'horseWeight'];
  const read = new Map<NumberKey, ReadNumber>(keys.map((key) => [key, readNumber(key, sheet.texts[key], units)]));
  const given = (key: NumberKey): number | undefined => {
    const found = read.get(key);
    return found !== null && found !== undefined && 'value' in found ? found.value : undefined;
  };
  const faults: Partial<Record<NumberKey, InputErrorDetails>> = {};
  for (const [key, found] of read) if (found !== null && 'fault' in found) faults[key] = found.fault;
  const values = withAverages(keys, given);
  const made = makeBack(sheet, values);
  if (made.fault !== null) {
    const at = faultKey(made.fault, sheet, keys);
    faults[at] ??= made.fault;
  }
  return {
    values,
    isGiven: (key) => given(key) !== undefined,
    faults,
    missing: neededKeys(sheet).filter((key) => given(key) === undefined),
    back: made.back,
    assumed: made.back === null ? [] : assumedValues(made.back.document, made.back.numbers),
  };
}

function withAverages(
  keys: readonly NumberKey[],
  given: (key: NumberKey) => number | undefined,
): Partial<Record<NumberKey, number>> {
  const values: Partial<Record<NumberKey, number>> = {};
  for (const key of keys) {
    const average = AVERAGE[key.split('.')[0] as keyof typeof AVERAGE] as number | undefined;
    const value = given(key) ?? average;
    if (value !== undefined) values[key] = value;
  }
  // As wide as slope and depth make it, so that what is not yet given contradicts nothing.
  const front = values.slopeFront ?? ((values['slopeFront.left'] ?? 44) + (values['slopeFront.right'] ?? 44)) / 2;
  values.withersWidth ??= (2 * values.withersDepth!) / Math.tan((Math.max(front, 5) * 0.97 * Math.PI) / 180);
  return values;
}

function makeBack(
  sheet: Sheet,
  values: Partial<Record<NumberKey, number>>,
): { back: SheetRead['back']; fault: InputErrorDetails | null } {
  const { record, bySide, line } = sheet;
  const on = /^\d{4}-\d{2}-\d{2}$/.test(record.on) ? record.on : NOT_YET.on;
  const slopes = PLACES.map((place) => [
    place,
    bySide ? { left: values[`${place}.left`], right: values[`${place}.right`] } : values[place],
  ]);
  const optional = (['withersHeight', 'horseWeight'] as const).flatMap((key) =>
    values[key] === undefined ? [] : [[key, values[key]]],
  );
  const json = {
    schema: NUMBERS_SCHEMA,
    name: record.name.trim() || NOT_YET.name,
    usableLength: values.usableLength,
    withersWidth: values.withersWidth,
    withersDepth: values.withersDepth,
    ...Object.fromEntries(slopes),
    [line]: values[line],
    ...Object.fromEntries(optional),
    measured: { by: record.by.trim() || NOT_YET.by, on },
    record: recordOf(record),
  };
  try {
    const { document, numbers } = readFewNumbers(json);
    return { back: { document, numbers }, fault: null };
  } catch (error) {
    if (error instanceof InputError) return { back: null, fault: error.details };
    throw error;
  }
}

/** The field that a refusal is about. */
function faultKey({ field }: InputErrorDetails, { bySide }: Sheet, keys: readonly NumberKey[]): NumberKey {
  const name = field ?? '';
  const exact = keys.find((key) => key === name);
  if (exact !== undefined) return exact;
  const place = PLACES.find((key) => name.startsWith(key));
  if (place !== undefined) return bySide ? `${place}.left` : place;
  return 'withersWidth';
}
