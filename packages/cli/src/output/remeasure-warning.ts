import { type BackDocument, InputError, remeasureDue } from '@barwright/geometry';
import type { Warning } from './envelope.ts';

/** The reminder to measure again, when it is due or the date can't be right; nothing otherwise. */
export function remeasureWarnings(prefix: string, document: BackDocument, today: string): Warning[] {
  const field = `${prefix}.measured.on`;
  try {
    const { due, sentence } = remeasureDue(document, today);
    return due || document.measured.on > today ? [{ field, sentence }] : [];
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const sentence = `${document.measured.on} is no day of the calendar: can't tell when to measure again.`;
    return [{ field, sentence }];
  }
}
