import type { BackRecord, Measured } from '@barwright/geometry';
import { DESK_TEXTS } from '../look/texts/desk.ts';

const T = DESK_TEXTS.record.faults;

/** What the record form holds while it is being filled in; numbers as typed. */
export interface RecordDraft {
  readonly name: string;
  readonly by: string;
  readonly on: string;
  readonly uncertaintyMm: string;
  readonly uncertaintyDeg: string;
  readonly surface: 'bare' | 'over pad';
  readonly how: string;
  readonly horse: string;
  readonly owner: string;
  readonly notes: string;
}

/** A good hand's repeatability (common practice, no source), to be replaced by one's own. */
const USUAL = Object.freeze({ mm: '3', deg: '2' });
/** As in the back schema. */
const MOST = Object.freeze({ mm: 50, deg: 20 });
/** Stands in a document for a measurer of whom nothing is said. */
export const NOT_STATED = 'not stated';

export const startRecord = (name: string, how: string, today: string): RecordDraft => ({
  name,
  by: '',
  on: today,
  uncertaintyMm: USUAL.mm,
  uncertaintyDeg: USUAL.deg,
  surface: 'bare',
  how,
  horse: '',
  owner: '',
  notes: '',
});

/** What is missing or wrong, by field; empty when the record can be kept. */
export function recordFaults(draft: RecordDraft): Readonly<Partial<Record<keyof RecordDraft, string>>> {
  return {
    ...(draft.name.trim() === '' ? { name: T.name } : {}),
    ...(/^\d{4}-\d{2}-\d{2}$/.test(draft.on) ? {} : { on: T.on }),
    ...(within(draft.uncertaintyMm, MOST.mm) ? {} : { uncertaintyMm: T.uncertaintyMm(MOST.mm) }),
    ...(within(draft.uncertaintyDeg, MOST.deg) ? {} : { uncertaintyDeg: T.uncertaintyDeg(MOST.deg) }),
  };
}

const within = (text: string, most: number): boolean => text.trim() !== '' && Number(text) >= 0 && Number(text) <= most;

export const measuredOf = (draft: RecordDraft): Measured => ({
  by: draft.by.trim() === '' ? NOT_STATED : draft.by.trim(),
  on: draft.on,
  uncertaintyMm: Number(draft.uncertaintyMm),
  uncertaintyDeg: Number(draft.uncertaintyDeg),
});

export function recordOf({ surface, how, owner, horse, notes }: RecordDraft): BackRecord {
  const said = (key: string, text: string): Record<string, string> =>
    text.trim() === '' ? {} : { [key]: text.trim() };
  return { surface, how, ...said('owner', owner), ...said('horse', horse), ...said('notes', notes) };
}
