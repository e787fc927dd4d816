import type { InputErrorDetails } from '@barwright/geometry';
import { REFUSAL_TEXTS } from '../look/texts/refusals.ts';

/** A fault of ours, said as such. */
export function faultDetails(error: unknown): InputErrorDetails {
  return {
    code: 'unsupported',
    got: String(error instanceof Error ? error.message : error).slice(0, 200),
    ...REFUSAL_TEXTS.fault,
  };
}
