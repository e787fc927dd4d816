import { InputError, type InputErrorDetails, readQuantity, type UnitName } from '@barwright/geometry';
import { defaultUnit } from '../../card/value-text.ts';
import type { Units } from '../../look/format.ts';
import { NUMBERS_TEXTS } from '../../look/texts/numbers.ts';
import type { RecordDraft } from '../record-draft.ts';

const T = NUMBERS_TEXTS.fields;

/** A place where a slope is taken. */
export const PLACES = ['slopeFront', 'slopeWaist', 'slopeRear'] as const;
export type Place = (typeof PLACES)[number];
export type SlopeKey = Place | `${Place}.left` | `${Place}.right`;

export type NumberKey =
  | 'usableLength'
  | 'withersWidth'
  | 'withersDepth'
  | SlopeKey
  | 'dip'
  | 'sag'
  | 'withersHeight'
  | 'horseWeight';

/** Everything on this desk: numbers as typed, and the record. */
export interface Sheet {
  readonly texts: Readonly<Partial<Record<NumberKey, string>>>;
  /** Places whose two sides were measured apart. */
  readonly bySide: boolean;
  readonly line: 'dip' | 'sag';
  readonly record: RecordDraft;
}

export type ReadNumber = { readonly value: number } | { readonly fault: InputErrorDetails } | null;

type Kind = 'length' | 'angle' | 'mass';

export const kindOfNumber = (key: NumberKey): Kind =>
  key.startsWith('slope') ? 'angle' : key === 'horseWeight' ? 'mass' : 'length';

/** The unit of a bare number, as everywhere on the page. */
export const bareUnit = (key: NumberKey, units: Units): UnitName => defaultUnit(kindOfNumber(key), units);

/** Limits that the document itself has for what the geometry takes as given. */
const MOST: Readonly<Partial<Record<NumberKey, number>>> = { withersHeight: 2500, horseWeight: 1500 };

/** What a field says, in mm, degrees or kg; null while nothing is written. */
export function readNumber(key: NumberKey, text: string | undefined, units: Units): ReadNumber {
  if (text === undefined || text.trim() === '') return null;
  try {
    const value = readQuantity(text, { field: key, unit: bareUnit(key, units) });
    const most = MOST[key];
    if (most === undefined || (value > 0 && value <= most)) return { value };
    const fault = { code: 'out-of-range' as const, field: key, got: text.slice(0, 40) };
    return {
      fault: {
        ...fault,
        expected: T.limits(most, key === 'horseWeight' ? 'kg' : 'mm'),
        remedy: T.checkUnit,
      },
    };
  } catch (error) {
    if (error instanceof InputError) return { fault: error.details };
    throw error;
  }
}

/** `22-1/4` can be read two ways: both, to choose from. */
export function bothReadings(text: string, fault: InputErrorDetails): string[] {
  if (fault.code !== 'ambiguous') return [];
  const match = /^\s*(\d{1,4})\s*-\s*(\d{1,3})\/(\d{1,3})/.exec(text);
  if (match === null) return [];
  const [whole, num, den] = match.slice(1).map(Number) as [number, number, number];
  return [`${whole} ${num}/${den} in`, `${whole - 1} ${den - num}/${den} in`];
}

/** The keys that a complete sheet has to fill. */
export function neededKeys({ bySide, line }: Sheet): NumberKey[] {
  const slopes = PLACES.flatMap((place): SlopeKey[] => (bySide ? [`${place}.left`, `${place}.right`] : [place]));
  return ['usableLength', 'withersWidth', ...slopes, line];
}

/** What a field is called. */
export function nameOf(key: NumberKey): string {
  if (!key.startsWith('slope')) return T.names[key as keyof typeof T.names];
  const [place, side] = key.split('.') as [Place, string | undefined];
  return side === undefined ? T.slope(T.places[place]) : T.slopeOf(T.places[place], side);
}

const HINTS: Readonly<Partial<Record<NumberKey, string>>> = T.hints;

/** How a number is taken, where a word about it helps. */
export const hintOf = (key: NumberKey): string | undefined => HINTS[key];
