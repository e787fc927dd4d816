import { temporal } from 'zundo';
import { createStore } from 'zustand/vanilla';
import { FIRST_DOCUMENTS } from '../files/demos.ts';
import type { Documents } from './documents.ts';
import { RESULT_START, type ResultState } from './result-state.ts';
import { VIEW_DEFAULTS, type ViewState } from './view-state.ts';

export const UNDO_LIMIT = 200;

/**
 * Only documents; every change is one step of undo unless a drag groups it. The setup's defaults live in geometry beside
 * their schema, which loads lazily: `boot` fills them in before any panel is drawn.
 */
export const documentStore = createStore<Documents>()(
  temporal(() => ({ ...FIRST_DOCUMENTS, setup: {} as Documents['setup'] }), { limit: UNDO_LIMIT }),
);

export const viewStore = createStore<ViewState>()(() => VIEW_DEFAULTS);

/** Written by the compute client and the actions only. */
export const resultStore = createStore<ResultState>()(() => RESULT_START);
