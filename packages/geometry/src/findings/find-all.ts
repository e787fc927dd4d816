import type { SeatedTree } from '../seating/index.ts';
import type { Finding } from './fit-result.ts';

export interface FindOptions {
  /** Re-run with each suspect value set to the back's own fitted one. */
  readonly causes: boolean;
}

/** Every finding of one seating, largest first. */
export function findAll(_seated: SeatedTree, _laidOn: SeatedTree, _options: FindOptions): Finding[] {
  return [];
}
