import { createStore, useStore } from 'zustand';

/** Which study lies over the ruler; null: none. */
export type Study =
  | 'shoulder'
  | 'riding'
  | 'sizing'
  | 'reach'
  | 'give'
  | 'sure'
  | 'takeoff'
  | 'stations'
  | 'compare'
  | 'horses'
  | 'maps';

export const studyStore = createStore<{ readonly open: Study | null }>()(() => ({ open: null }));

export const openStudy = (open: Study | null): void => studyStore.setState({ open });
export const useStudy = (): Study | null => useStore(studyStore, ({ open }) => open);
