import { describe, expect, test } from 'vitest';
import {
  BENCH,
  type ComparedDocuments,
  KEPT_START,
  MOST_KEPT,
  readKeptState,
  withKept,
  withoutKept,
  withShown,
} from './kept-store.ts';

const documents = { pattern: { name: 'Post' }, back: { name: 'Tuesday' }, setup: {} } as unknown as ComparedDocuments;

describe('results kept for comparing', () => {
  test('names and ids are not used twice; three are shown and no more', () => {
    let state = KEPT_START;
    const names: string[] = [];
    for (let i = 0; i < MOST_KEPT; i++) {
      const next = withKept(state, documents)!;
      names.push(next.name);
      state = next.state;
    }
    expect(names.slice(0, 3)).toEqual(['Post on Tuesday', 'Post on Tuesday, 2', 'Post on Tuesday, 3']);
    expect(new Set(state.kept.map(({ id }) => id)).size).toBe(MOST_KEPT);
    expect(state.shown).toEqual([BENCH, 'kept-1', 'kept-2']);
    expect(withKept(state, documents)).toBeNull();
    expect(withShown(state, 'kept-3', true)).toBe(state);
    expect(withShown(withShown(state, BENCH, false), 'kept-3', true).shown).toEqual(['kept-1', 'kept-2', 'kept-3']);
  });

  test('what is taken out is no longer shown, and its id may come again only when it was the last', () => {
    const two = withKept(withKept(KEPT_START, documents)!.state, documents)!.state;
    const one = withoutKept(two, 'kept-1');
    expect(one.kept.map(({ id }) => id)).toEqual(['kept-2']);
    expect(one.shown).toEqual([BENCH, 'kept-2']);
    expect(withKept(one, documents)!.state.kept.map(({ id }) => id)).toEqual(['kept-2', 'kept-3']);
  });

  test('what another version left in the browser is taken as far as it has the shape', () => {
    const good = { id: 'kept-4', name: 'A', documents };
    const raw = {
      kept: [good, { id: 'x', name: 'B', documents }, { id: 'kept-5', name: 'C' }, null],
      shown: ['kept-4', 'kept-9'],
    };
    expect(readKeptState(raw)).toEqual({ kept: [good], shown: ['kept-4'] });
    expect(readKeptState('nonsense')).toEqual(KEPT_START);
    expect(readKeptState(undefined)).toEqual(KEPT_START);
  });
});
