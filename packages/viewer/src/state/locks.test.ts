import { beforeEach, describe, expect, test } from 'vitest';
import { demoPattern } from '../files/demos.ts';
import { loadEditor, openPattern, redo, setValue, undo } from './actions.ts';
import { isLocked, locks, setLock } from './locks.ts';
import { documentStore } from './stores.ts';

const value = (key: string) => documentStore.getState().pattern.values[key];

describe('locks of the card', () => {
  beforeEach(async () => {
    await loadEditor();
    locks.put([]);
    openPattern(demoPattern('post'));
  });

  test('a locked value is neither typed nor stepped, on both bars, until it is unlocked; others are free', () => {
    setLock('slopeFront', true);
    const refused = setValue('slopeFront', 47);
    expect(refused).toMatchObject({ ok: false, error: { code: 'forbidden', field: 'slopeFront' } });
    expect(setValue('left.slopeFront', 47).ok).toBe(false);
    expect(value('slopeFront')).toBe(43);
    expect(setValue('slopeRear', 27)).toEqual({ ok: true });
    setLock('left.slopeFront', false);
    expect(isLocked('slopeFront')).toBe(false);
    expect(setValue('slopeFront', 47)).toEqual({ ok: true });
    expect(value('slopeFront')).toBe(47);
  });

  test('a value that is written with another holds that one too', () => {
    setValue('length', 'seatLength + 6.5 in');
    setLock('length', true);
    const refused = setValue('seatLength', '16 in');
    expect(refused).toMatchObject({ ok: false, error: { field: 'length' } });
    setLock('length', false);
    expect(setValue('seatLength', '16 in')).toEqual({ ok: true });
  });

  test('undo and redo go through a lock: they bring back what was, they set nothing', () => {
    setValue('slopeFront', 45);
    setLock('slopeFront', true);
    undo();
    expect(value('slopeFront')).toBe(43);
    redo();
    expect(value('slopeFront')).toBe(45);
  });
});
