import { useStore } from 'zustand';
import { sentenceIn } from '../look/sentence.ts';
import type { Documents } from './documents.ts';
import type { ResultState } from './result-state.ts';
import { documentStore, resultStore, viewStore } from './stores.ts';
import type { ViewState } from './view-state.ts';

/** Select something that keeps its identity: a field, not a new object. */
export const useDocument = <T>(selector: (documents: Documents) => T): T => useStore(documentStore, selector);
export const useView = <T>(selector: (view: ViewState) => T): T => useStore(viewStore, selector);
export const useResult = <T>(selector: (result: ResultState) => T): T => useStore(resultStore, selector);

export const useCanUndo = (): boolean => useStore(documentStore.temporal, (history) => history.pastStates.length > 0);
export const useCanRedo = (): boolean => useStore(documentStore.temporal, (history) => history.futureStates.length > 0);

/** Puts a sentence of the geometry into the units of the page. */
export function useSentence(): (sentence: string) => string {
  const units = useView((view) => view.units);
  return (sentence) => sentenceIn(sentence, units);
}
