import type { JsonObject } from './glb-container.ts';
import { refuse } from './refuse.ts';

export const GLB_REMEDY = 'Export the scan again as GLB, without compression or animation.';

export const PACKED_REMEDY = 'Save it without mesh compression.';

/** A list of objects of the document, empty when absent. */
export function listOf(owner: JsonObject, key: string, place: string): readonly JsonObject[] {
  const list = owner[key];
  if (list === undefined) return [];
  if (!Array.isArray(list)) return wrongType(`${place}${key}`, list, 'a list');
  return list.map((entry, i) => objectAt(entry, `${place}${key}[${i}]`));
}

export function objectAt(value: unknown, place: string): JsonObject {
  if (typeof value === 'object' && value !== null && !Array.isArray(value)) return value as JsonObject;
  return wrongType(place, value, 'an object');
}

/** A whole number of at least `low`; `fallback` when absent, and an absent one without a fallback is refused. */
export function wholeAt(owner: JsonObject, key: string, place: string, low = 0, fallback?: number): number {
  const value = owner[key] ?? fallback;
  if (value === undefined) return refuse('missing', `${place}.${key}`, 'nothing', 'a whole number', GLB_REMEDY);
  if (typeof value === 'number' && Number.isSafeInteger(value) && value >= low) return value;
  return wrongType(`${place}.${key}`, value, `a whole number from ${low} up`);
}

/** An index into a list of the document; answers the entry it names. */
export function entryAt<T>(list: readonly T[], owner: JsonObject, key: string, place: string): T {
  const index = wholeAt(owner, key, place);
  if (index < list.length) return list[index];
  return refuse('out-of-range', `${place}.${key}`, index, `an index below ${list.length}`, GLB_REMEDY);
}

/** A list of whole numbers that name entries of a list of `count`; empty when absent. */
export function indicesAt(owner: JsonObject, key: string, place: string, count: number): readonly number[] {
  const list = owner[key] ?? [];
  if (!Array.isArray(list)) return wrongType(`${place}.${key}`, list, 'a list of indices');
  for (const index of list) {
    if (typeof index === 'number' && Number.isInteger(index) && index >= 0 && index < count) continue;
    refuse('out-of-range', `${place}.${key}`, index, `indices below ${count}`, GLB_REMEDY);
  }
  return list as number[];
}

/** Exactly `count` finite numbers, or null when absent. */
export function numbersAt(owner: JsonObject, key: string, place: string, count: number): readonly number[] | null {
  const list = owner[key];
  if (list === undefined) return null;
  const fits = Array.isArray(list) && list.length === count && list.every((value) => Number.isFinite(value));
  return fits ? (list as number[]) : wrongType(`${place}.${key}`, list, `${count} numbers`);
}

function wrongType(place: string, got: unknown, expected: string): never {
  return refuse('wrong-type', place, got, expected, GLB_REMEDY);
}
