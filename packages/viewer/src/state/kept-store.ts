import { get, set } from 'idb-keyval';
import { createStore, type StoreApi } from 'zustand/vanilla';

export interface KeptStore<T> {
  readonly store: StoreApi<{ readonly value: T; readonly isKept: boolean }>;
  /** Changes the value and keeps it in this browser; where that can't be, it lasts as long as the page. */
  put(value: T): void;
  /** Brings back what was kept, where `read` takes it. */
  restore(): Promise<void>;
}

/** A small thing that is kept beside the documents, under a place of its own. */
export function createKeptStore<T>(place: string, first: T, read: (kept: unknown) => T | null): KeptStore<T> {
  const store = createStore<{ readonly value: T; readonly isKept: boolean }>()(() => ({ value: first, isKept: true }));
  const lost = (): void => store.setState({ isKept: false });
  const write = async (value: T): Promise<void> => {
    await set(place, value);
    store.setState({ isKept: true });
  };
  return {
    store,
    put(value) {
      store.setState({ value });
      write(value).catch(lost);
    },
    async restore() {
      try {
        const value = read(await get(place));
        if (value !== null) store.setState({ value });
      } catch {
        lost();
      }
    },
  };
}
