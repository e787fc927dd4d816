import { InputError } from '../numeric/index.ts';

export interface RemeasureDue {
  readonly due: boolean;
  /** First day on which it is due, yyyy-mm-dd. */
  readonly onIso: string;
  readonly sentence: string;
}

/** Back shape at T8 and T18 changed significantly within two months: Greve & Dyson 2014, Equine Vet J 46 Suppl 46. */
export const REMEASURE_MONTHS = 2;

/**
 * Whether a back should be measured again: two calendar months after `measured.on`, on the same day of the month or the
 * month's last. The caller says what day it is.
 * @param todayIso yyyy-mm-dd
 * @throws InputError 'out-of-range' for a day that no calendar has
 */
export function remeasureDue(doc: { readonly measured: { readonly on: string } }, todayIso: string): RemeasureDue {
  const [year, month, day] = readDay(doc.measured.on, 'measured.on');
  readDay(todayIso, 'today');
  const later = month - 1 + REMEASURE_MONTHS;
  const dueYear = year + Math.floor(later / 12);
  const dueMonth = (later % 12) + 1;
  const onIso = isoDay(dueYear, dueMonth, Math.min(day, daysIn(dueYear, dueMonth)));
  const source = `backs change shape within ${REMEASURE_MONTHS} months (Greve & Dyson 2014)`;
  if (todayIso < doc.measured.on) {
    return {
      due: false,
      onIso,
      sentence: `Measured on ${doc.measured.on}, which is after ${todayIso}: check the date.`,
    };
  }
  const due = todayIso >= onIso;
  const sentence = due
    ? `Measured on ${doc.measured.on}; measure again: due since ${onIso}, ${source}.`
    : `Measured on ${doc.measured.on}; measure again from ${onIso} on, ${source}.`;
  return { due, onIso, sentence };
}

function readDay(text: string, field: string): [number, number, number] {
  const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  const [year, month, day] = parts === null ? [0, 0, 0] : parts.slice(1).map(Number);
  if (month >= 1 && month <= 12 && day >= 1 && day <= daysIn(year, month)) return [year, month, day];
  throw new InputError({
    code: 'out-of-range',
    field,
    got: text.slice(0, 40),
    expected: 'a day of the calendar as yyyy-mm-dd',
    remedy: 'Correct the date.',
  });
}

function daysIn(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

const isoDay = (year: number, month: number, day: number): string =>
  `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
