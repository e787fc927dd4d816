import { type BackRecord, InputError, LANDMARK_NAMES, type Measured, type ScanHints } from '@barwright/geometry';
import type { BackFlags } from '../commands/back.ts';

/** A good hand's repeatability (common practice, no source): printed with the document, to be replaced by your own. */
const USUAL = Object.freeze({ uncertaintyMm: 3, uncertaintyDeg: 2 });

const NUMBER = String.raw`[+-]?(?:\d{1,9}(?:\.\d{0,15})?|\.\d{1,15})(?:[eE][+-]?\d{1,2})?`;
const LANDMARK = new RegExp(`^(\\w{1,40})=\\s*(${NUMBER})\\s*,\\s*(${NUMBER})\\s*,\\s*(${NUMBER})\\s*$`);

/** `name=x,y,z`, each name once. */
export function readLandmarks(texts: readonly string[]): NonNullable<ScanHints['landmarks']> {
  const marks: Record<string, readonly [number, number, number]> = {};
  for (const text of texts) {
    const parts = LANDMARK.exec(text);
    const name = parts?.[1];
    if (parts === null || !LANDMARK_NAMES.some((known) => known === name) || Object.hasOwn(marks, name!)) {
      throw new InputError({
        code: 'usage',
        field: '--landmark',
        got: JSON.stringify(text).slice(0, 60),
        expected: `name=x,y,z with each name once, one of ${LANDMARK_NAMES.join(', ')}`,
        remedy: "Give the file's own numbers, with a point for decimals",
      });
    }
    marks[name!] = [Number(parts[2]), Number(parts[3]), Number(parts[4])];
  }
  return marks;
}

/** Who, when, how well. Today stands in for a day that nobody gave, and has to be confirmed. */
export function readMeasured(flags: BackFlags, today: string): { measured: Measured; isDateOpen: boolean } {
  const on = flags.on ?? today;
  if (!isCalendarDay(on)) throw badFlag('--on', on, 'a day of the calendar as yyyy-mm-dd');
  return {
    measured: {
      by: flags.by ?? 'not stated',
      on,
      uncertaintyMm: within(flags.uncertaintyMm, '--uncertainty-mm', 50) ?? USUAL.uncertaintyMm,
      uncertaintyDeg: within(flags.uncertaintyDeg, '--uncertainty-deg', 20) ?? USUAL.uncertaintyDeg,
    },
    isDateOpen: flags.on === undefined,
  };
}

function isCalendarDay(text: string): boolean {
  const time = /^\d{4}-\d{2}-\d{2}$/.test(text) ? Date.parse(text) : Number.NaN;
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(text);
}

/** Null when nothing of a record was given. */
export function readRecord({ owner, horse, surface, how, notes }: BackFlags): BackRecord | null {
  if ([owner, horse, surface, how, notes].every((part) => part === undefined)) return null;
  if (surface === undefined) {
    throw badFlag('--surface', 'nothing', 'bare or over pad with --owner, --horse, --how or --notes');
  }
  const given = { ...(owner === undefined ? {} : { owner }), ...(horse === undefined ? {} : { horse }) };
  return { ...given, surface, how: how ?? 'not stated', ...(notes === undefined ? {} : { notes }) };
}

function within(text: string | undefined, option: string, most: number): number | undefined {
  if (text === undefined) return undefined;
  const value = new RegExp(`^${NUMBER}$`).test(text) ? Number(text) : Number.NaN;
  if (value >= 0 && value <= most) return value;
  throw badFlag(option, text, `a number from 0 to ${most}`);
}

function badFlag(field: string, got: string, expected: string): InputError {
  const remedy = 'Correct the option';
  return new InputError({ code: 'usage', field, got: JSON.stringify(got).slice(0, 60), expected, remedy });
}
