import { type BackSurface, resolvePattern } from '@barwright/geometry';
import type { FitInputs } from '../inputs/fit-inputs.ts';
import type { Warning } from './envelope.ts';
import { remeasureWarnings } from './remeasure-warning.ts';

/** What is odd about the inputs of a study, one sentence each. */
export function studyWarnings(inputs: FitInputs, back: BackSurface, today: string): Warning[] {
  return [
    ...resolvePattern(inputs.documents.pattern).remarks.map(({ field, sentence }) => ({
      field: `pattern.${field}`,
      sentence,
    })),
    ...(inputs.back.scan?.warnings ?? []).map((sentence) => ({ field: 'back.mesh', sentence })),
    ...back.warnings.map((sentence) => ({ field: 'back', sentence })),
    ...remeasureWarnings('back', inputs.back.document, today),
  ];
}
