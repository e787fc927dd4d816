import type { InputErrorDetails, PatternDocument } from '@barwright/geometry';
import { useStore } from 'zustand';
import { TEXTS } from '../look/texts.ts';
import { createKeptStore } from './kept-store.ts';
import type { PatternView } from './result-state.ts';

const T = TEXTS.locks;
const NONE: readonly string[] = Object.freeze([]);

/** Keys of the card's values that neither typing nor dragging changes; how one works, so never a step of undo. */
export const locks = createKeptStore<readonly string[]>('barwright/locks/1', NONE, (kept) =>
  Array.isArray(kept) && kept.every((key) => typeof key === 'string') ? kept : null,
);

const plain = (key: string): string => key.replace(/^left\./, '');

export const isLocked = (key: string): boolean => locks.store.getState().value.includes(plain(key));
export const useIsLocked = (key: string): boolean => useStore(locks.store, ({ value }) => value.includes(plain(key)));

/** A lock holds a value of both bars. */
export function setLock(key: string, locked: boolean): void {
  const others = locks.store.getState().value.filter((held) => held !== plain(key));
  locks.put(locked ? [...others, plain(key)] : others);
}

type Describe = (document: PatternDocument) => PatternView;

/** Why a change of this value is refused; null where nothing holds it. */
export function heldByLock(key: string, pattern: PatternDocument, describe: Describe): InputErrorDetails | null {
  if (!isLocked(key)) return null;
  const label = labelOf(plain(key), describe(pattern));
  return { code: 'forbidden', field: key, expected: T.expected(label), remedy: T.remedy };
}

/** Why a change that would move a locked value along is refused: that one is written with the other. */
export function movedLock(
  before: PatternDocument,
  after: PatternDocument,
  describe: Describe,
): InputErrorDetails | null {
  const held = locks.store.getState().value;
  if (held.length === 0) return null;
  const [was, is] = [describe(before), describe(after)];
  const moved = held.find((key) => was.values[key] !== is.values[key] || was.leftValues[key] !== is.leftValues[key]);
  if (moved === undefined) return null;
  return { code: 'forbidden', field: moved, expected: T.moves(labelOf(moved, was)), remedy: T.movesRemedy };
}

const labelOf = (key: string, view: PatternView): string =>
  view.fields.find((field) => field.key === key)?.label ?? key;
