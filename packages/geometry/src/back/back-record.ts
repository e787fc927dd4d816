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

export type BackRecord = z.infer<typeof backRecordSchema>;

/** The same document without its owner's name; the name and notes that a person typed are left as they are. */
export function withoutOwner<Doc extends { readonly record?: BackRecord | undefined }>(doc: Doc): Doc {
  if (doc.record?.owner === undefined) return doc;
  const { owner: _, ...record } = doc.record;
  return { ...doc, record };
}
