import { createStore, useStore } from 'zustand';
import type { WordId } from './dictionary.ts';

/** The word that is explained, and the button it was touched at. */
interface OpenWord {
  readonly id: WordId;
  readonly from: HTMLElement;
}

const store = createStore<{ readonly open: OpenWord | null }>()(() => ({ open: null }));

export const useOpenWord = (): OpenWord | null => useStore(store, ({ open }) => open);

export const openWord = (id: WordId, from: HTMLElement): void => store.setState({ open: { id, from } });

/** Closes it, with the keyboard back at the word where `returns`. */
export function closeWord(returns: boolean): void {
  const { open } = store.getState();
  store.setState({ open: null });
  if (returns) open?.from.focus();
}
