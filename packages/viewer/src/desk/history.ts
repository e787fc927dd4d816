/** A value with the steps that led to it and those taken back. Each desk has one, apart from the bench's own undo. */
export interface History<T> {
  readonly past: readonly T[];
  readonly now: T;
  readonly future: readonly T[];
  /** What the last change was about: changes about the same thing in a row are one step. */
  readonly about: string | null;
}

const MOST_STEPS = 200;

export const startHistory = <T>(now: T): History<T> => ({ past: [], now, future: [], about: null });

export function changed<T>(history: History<T>, next: T, about: string | null = null): History<T> {
  if (next === history.now) return history;
  const goesOn = about !== null && about === history.about && history.past.length > 0;
  const past = goesOn ? history.past : [...history.past, history.now].slice(-MOST_STEPS);
  return { past, now: next, future: [], about };
}

/** Fills in what belongs to the last change: no step of its own, and what was undone stays redoable. */
export const amended = <T>(history: History<T>, now: T): History<T> => ({ ...history, now });

export function undone<T>(history: History<T>): History<T> {
  const { past, now, future } = history;
  const before = past.at(-1);
  if (before === undefined) return history;
  return { past: past.slice(0, -1), now: before, future: [now, ...future], about: null };
}

export function redone<T>(history: History<T>): History<T> {
  const { past, now, future } = history;
  const [next, ...later] = future;
  if (next === undefined) return history;
  return { past: [...past, now], now: next, future: later, about: null };
}
