import { DEMO_BACKS, DEMO_PATTERNS, demoBack } from '../files/demos.ts';
import type { Shelf } from './draft.ts';

/** The demo documents by the names of their files, which a lesson may name without bringing them along. */
export const SHELF: Shelf = {
  patterns: Object.fromEntries(DEMO_PATTERNS.map(({ id, json }) => [`${id}.pattern.json`, json])),
  backs: Object.fromEntries(DEMO_BACKS.map(({ id }) => [`${id}.back.json`, demoBack(id)!])),
};
