import { useCallback, useEffect, useState } from 'react';

const LIMIT = 200;

interface Steps<T> {
  readonly past: readonly T[];
  readonly now: T;
  readonly future: readonly T[];
  /** What the last change was about: typing on in one field is one step. */
  readonly about: string | null;
}

export interface DeskHistory<T> {
  readonly now: T;
  /** Takes a change; changes about the same thing, one after the other, are one step of undo. */
  change(next: T, about?: string): void;
  undo(): void;
  redo(): void;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
}

/**
 * Undo within one desk. Its keys are caught before they reach the bench, whose documents lie underneath untouched; inside a
 * text field they stay the field's own.
 */
export function useHistory<T>(start: T | (() => T)): DeskHistory<T> {
  const [steps, setSteps] = useState<Steps<T>>(() => ({
    past: [],
    now: typeof start === 'function' ? (start as () => T)() : start,
    future: [],
    about: null,
  }));
  const change = useCallback((next: T, about: string | null = null): void => {
    setSteps(({ past, now, about: last }) => {
      const goesOn = about !== null && about === last && past.length > 0;
      return { past: goesOn ? past : [...past, now].slice(-LIMIT), now: next, future: [], about };
    });
  }, []);
  const undo = useCallback((): void => {
    setSteps((steps) => {
      const before = steps.past.at(-1);
      if (before === undefined) return steps;
      return { past: steps.past.slice(0, -1), now: before, future: [steps.now, ...steps.future], about: null };
    });
  }, []);
  const redo = useCallback((): void => {
    setSteps((steps) => {
      const [after, ...later] = steps.future;
      if (after === undefined) return steps;
      return { past: [...steps.past, steps.now], now: after, future: later, about: null };
    });
  }, []);
  useEffect(() => {
    const pressed = (event: KeyboardEvent): void => {
      const key = event.key.toLowerCase();
      if (!(event.ctrlKey || event.metaKey) || event.altKey || (key !== 'z' && key !== 'y')) return;
      const target = event.target as HTMLElement | null;
      const isText = target?.closest('input:not([type="range"], [type="checkbox"], [type="radio"]), textarea') ?? null;
      event.stopImmediatePropagation();
      if (isText !== null) return;
      event.preventDefault();
      if (key === 'y' || event.shiftKey) redo();
      else undo();
    };
    window.addEventListener('keydown', pressed, { capture: true });
    return () => window.removeEventListener('keydown', pressed, { capture: true });
  }, [undo, redo]);
  return { now: steps.now, change, undo, redo, canUndo: steps.past.length > 0, canRedo: steps.future.length > 0 };
}
