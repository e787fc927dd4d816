import { useCallback, useState } from 'react';
import { amended, changed, redone, startHistory, undone } from './history.ts';

export interface DeskHistory<T> {
  readonly now: T;
  /** Takes a change; changes about the same thing, one after the other, are one step of undo. */
  change(next: T | ((now: T) => T), about?: string | null): void;
  /** The same, told more exactly: no step of undo. */
  amend(make: (now: T) => T): void;
  undo(): void;
  redo(): void;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
}

/** Undo within one desk. */
export function useHistory<T extends object>(start: T | (() => T)): DeskHistory<T> {
  const [steps, setSteps] = useState(() => startHistory(typeof start === 'function' ? start() : start));
  const change = useCallback<DeskHistory<T>['change']>((next, about = null) => {
    setSteps((before) => changed(before, typeof next === 'function' ? next(before.now) : next, about));
  }, []);
  const amend = useCallback<DeskHistory<T>['amend']>((make) => {
    setSteps((before) => amended(before, make(before.now)));
  }, []);
  const undo = useCallback((): void => setSteps(undone), []);
  const redo = useCallback((): void => setSteps(redone), []);
  const { past, now, future } = steps;
  return { now, change, amend, undo, redo, canUndo: past.length > 0, canRedo: future.length > 0 };
}
