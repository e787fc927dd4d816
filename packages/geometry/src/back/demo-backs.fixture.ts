import dumpling from '../../../../examples/dumpling.back.json' with { type: 'json' };
import heron from '../../../../examples/heron.back.json' with { type: 'json' };
import tuesday from '../../../../examples/tuesday.back.json' with { type: 'json' };
import { type SectionsBackDocument, sectionsBackSchema } from './sections-schema.ts';

export const DEMO_BACKS = { dumpling, heron, tuesday } as const;
export type DemoBack = keyof typeof DEMO_BACKS;

/** A demo back's document as it is shipped. */
export const demoBack = (name: DemoBack): SectionsBackDocument => sectionsBackSchema.parse(DEMO_BACKS[name]);

/** The table alone: no blade patch, hollow or asymmetry, so left = right and closed forms apply. */
export const bareBack = (doc: SectionsBackDocument): SectionsBackDocument => ({
  ...doc,
  asymmetry: { left: null, right: null },
  bladeBulge: { left: { heightMm: 0 }, right: { heightMm: 0 } },
  hollow: { left: null, right: null },
});
