import { createStore, useStore } from 'zustand';
import type { RecentFiles } from './recent.ts';
import type { KeptState } from './slots.ts';

/** Work that lies in another slot of this browser. */
export interface OtherWork {
  readonly id: string;
  readonly at: number;
  readonly name: string;
}

export interface HabitsState {
  /** When this tab's work was last written; null before the first time. */
  readonly savedAt: number | null;
  /** States of this tab, oldest first. */
  readonly history: readonly KeptState[];
  /** Newest first. */
  readonly others: readonly OtherWork[];
  /** Another tab had the bench open when this one came; its work is offered until that is answered. */
  readonly offer: OtherWork | null;
  /** Opened files, the latest first. */
  readonly recent: readonly RecentFiles[];
  readonly panel: 'kept' | 'keys' | 'save' | null;
}

export const habitsStore = createStore<HabitsState>()(() => ({
  savedAt: null,
  history: [],
  others: [],
  offer: null,
  recent: [],
  panel: null,
}));

export const useHabits = <T>(selector: (state: HabitsState) => T): T => useStore(habitsStore, selector);
export const showPanel = (panel: HabitsState['panel']): void => habitsStore.setState({ panel });

/** A time as people say it today: 14:32; another day's with its date. */
export function clock(at: number): string {
  const date = new Date(at);
  const time = date.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });
  const isToday = date.toDateString() === new Date().toDateString();
  return isToday ? time : `${date.toLocaleDateString('en-GB', { day: 'numeric', month: 'short' })}, ${time}`;
}
