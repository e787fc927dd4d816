import { type Fit, resolvePattern } from '@barwright/geometry';
import type { FitInputs } from '../inputs/fit-inputs.ts';
import type { Warning } from './envelope.ts';

/** What is odd about the inputs or the outcome of a fit, one sentence each. */
export function fitWarnings(inputs: FitInputs, { result, seated }: Fit): Warning[] {
  const warnings: Warning[] = [];
  const say = (field: string | null, sentence: string): number => warnings.push({ field, sentence });
  for (const { field, sentence } of resolvePattern(inputs.documents.pattern).remarks) say(`pattern.${field}`, sentence);
  for (const sentence of inputs.back.scan?.warnings ?? []) say('back.mesh', sentence);
  for (const sentence of seated.back.warnings) say('back', sentence);
  if (result.status !== 'settled') say('status', STATUS_SENTENCES[result.status] ?? `Not settled: ${result.status}.`);
  if (result.coverage.excludedFraction > 0) {
    const percent = (100 * result.coverage.excludedFraction).toFixed(1);
    say('coverage', `${percent} % of the bearing surface has no data under it and is left out of every total.`);
  }
  return warnings;
}

const STATUS_SENTENCES: Readonly<Record<string, string>> = {
  'no contact': 'The tree does not touch the back: all figures of contact are empty.',
  'off the data': 'The bearing goes on where the back was not measured: totals are of the measured part only.',
  'iteration limit': 'The seating did not come to rest: figures are of the last pose.',
};
