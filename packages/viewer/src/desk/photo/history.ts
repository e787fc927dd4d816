import { createStore, type StoreApi } from 'zustand';
import { amended, changed, type History, redone, startHistory, undone } from '../history.ts';

/** A desk's history in a store of its own, so that it outlives the desk's parts. */
export class Undoable<T> {
  readonly store: StoreApi<History<T>>;

  constructor(start: T) {
    this.store = createStore<History<T>>()(() => startHistory(start));
  }

  get now(): T {
    return this.store.getState().now;
  }

  /** Changes about the same thing one after another are undone together. */
  change(edit: (now: T) => T, about: string | null = null): void {
    this.store.setState((history) => changed(history, edit(history.now), about));
  }

  amend(edit: (now: T) => T): void {
    this.store.setState((history) => amended(history, edit(history.now)));
  }

  undo(): void {
    this.store.setState(undone);
  }

  redo(): void {
    this.store.setState(redone);
  }
}
