import { createStore, type StoreApi } from 'zustand';

export interface History<T> {
  readonly past: readonly T[];
  readonly now: T;
  readonly future: readonly T[];
  /** Changes that follow each other under one name are one step. */
  readonly step: string | null;
}

const MOST_STEPS = 200;

/** A document with undo of its own, so that work on the desk doesn't mix with the bench's. */
export class Undoable<T> {
  readonly store: StoreApi<History<T>>;

  constructor(start: T) {
    this.store = createStore<History<T>>()(() => ({ past: [], now: start, future: [], step: null }));
  }

  get now(): T {
    return this.store.getState().now;
  }

  /** Changes that carry the same `step` one after another are undone together. */
  change(edit: (now: T) => T, step: string | null = null): void {
    this.store.setState(({ past, now, step: last }) => {
      const next = edit(now);
      if (next === now) return {};
      const joins = step !== null && step === last;
      return { past: joins ? past : [...past, now].slice(-MOST_STEPS), now: next, future: [], step };
    });
  }

  /** Fills in what belongs to the last change: no step of its own, and what was undone stays redoable. */
  amend(edit: (now: T) => T): void {
    this.store.setState(({ now }) => ({ now: edit(now) }));
  }

  undo(): void {
    this.store.setState(({ past, now, future }) =>
      past.length === 0
        ? {}
        : { past: past.slice(0, -1), now: past[past.length - 1]!, future: [now, ...future], step: null },
    );
  }

  redo(): void {
    this.store.setState(({ past, now, future }) =>
      future.length === 0 ? {} : { past: [...past, now], now: future[0]!, future: future.slice(1), step: null },
    );
  }
}
