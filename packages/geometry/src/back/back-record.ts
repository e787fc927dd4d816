import * as z from 'zod';

/** Whose horse, in what state, and how it was measured. Optional in a back document of any kind. */
export const backRecordSchema = z.strictObject({
  /** Never exported unless asked for: see withoutOwner. */
  owner: z.string().max(200).optional(),
  horse: z.string().max(200).optional(),
  /** What was measured: the coat itself, or a pad lying on it. */
  surface: z.enum(['bare', 'over pad']),
  /** Instrument and way of measuring, in the maker's words. */
  how: z.string().max(1000),
  notes: z.string().max(4000).optional(),
});

/** A day that the calendar has. */
const day = z
  .string()
  .regex(/^\d{4}-\d{2}-\d{2}$/)
  .refine((text) => isCalendarDay(text), 'a day of the calendar as yyyy-mm-dd');

const DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

function isCalendarDay(text: string): boolean {
  const [year, month, date] = text.split('-').map(Number) as [number, number, number];
  const isLeap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return date >= 1 && date <= (month === 2 && isLeap ? 29 : (DAYS[month - 1] ?? 0));
}

/** Who measured, when and how well; every back document has it. */
export const measuredSchema = z.strictObject({
  by: z.string().max(200),
  on: day,
  uncertaintyMm: z.number().min(0).max(50),
  uncertaintyDeg: z.number().min(0).max(20),
});

export type BackRecord = z.infer<typeof backRecordSchema>;

/** The same document without its owner's name; the name and notes that a person typed are left as they are. */
export function withoutOwner<Doc extends { readonly record?: BackRecord | undefined }>(doc: Doc): Doc {
  if (doc.record?.owner === undefined) return doc;
  const { owner: _, ...record } = doc.record;
  return { ...doc, record };
}
