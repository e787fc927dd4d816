import { type Fit, resolvePattern } from '@barwright/geometry';
import type { FitInputs } from '../inputs/fit-inputs.ts';
import type { Warning } from './envelope.ts';
import { remeasureWarnings } from './remeasure-warning.ts';

export interface WarningOptions {
  /** yyyy-mm-dd: a back that is due to be measured again says so. */
  readonly today: string;
  /** Names the owner, where the back's record does. */
  readonly withOwner?: boolean;
}

/** What is odd about the inputs or the outcome of a fit, one sentence each. */
export function fitWarnings(
  inputs: FitInputs,
  { result, seated }: Fit,
  { today, withOwner = false }: WarningOptions,
): Warning[] {
  const warnings: Warning[] = [];
  const say = (field: string | null, sentence: string): number => warnings.push({ field, sentence });
  for (const { field, sentence } of resolvePattern(inputs.documents.pattern).remarks) say(`pattern.${field}`, sentence);
  for (const sentence of inputs.back.scan?.warnings ?? []) say('back.mesh', sentence);
  for (const sentence of seated.back.warnings) say('back', sentence);
  const { document } = inputs.back;
  for (const { field, sentence } of remeasureWarnings('back', document, today)) say(field, sentence);
  if (withOwner && document.record?.owner !== undefined) say('back.record.owner', `Owner: ${document.record.owner}.`);
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
