import { beforeAll, describe, expect, test } from 'vitest';
import { FIRST_DOCUMENTS } from '../files/demos.ts';
import { loadEditor } from '../state/actions.ts';
import type { Documents } from '../state/documents.ts';
import { addStep, MOST_STATES, type Step } from './history.ts';
import { SHORTCUTS, shortcutFor } from './keys.ts';
import { whatChanged } from './what-changed.ts';

let start: Documents;
beforeAll(async () => {
  const editor = await loadEditor();
  start = { ...FIRST_DOCUMENTS, setup: editor.setupDefaults() };
});

const step = (at: number): Step => ({ key: `state ${at}`, at, says: `at ${at}` });

describe('states', () => {
  test('a value that is tried out is one state; another value, or the same a minute on, is another', () => {
    const length = { topic: 'length', says: '' };
    const one = addStep([step(0)], step(1000), length, null).list;
    const two = addStep(one, step(2000), length, 'length').list;
    expect(two.map(({ at, key }) => [at, key])).toEqual([
      [0, 'state 0'],
      [2000, 'state 1000'],
    ]);
    expect(addStep(two, step(3000), { topic: 'back', says: '' }, 'length').list).toHaveLength(3);
    expect(addStep(two, step(99_000), length, 'length').list).toHaveLength(3);
  });

  test('the oldest fall out beyond the limit', () => {
    const full = Array.from({ length: MOST_STATES }, (_, i) => step(i));
    const { list, dropped } = addStep(full, step(1e9), { topic: 'x', says: '' }, null);
    expect(list).toHaveLength(MOST_STATES);
    expect(dropped).toEqual(['state 0']);
  });
});

describe('what changed', () => {
  test('is said by the card’s names, with both values', async () => {
    const editor = await loadEditor();
    const edited = editor.editPattern(start.pattern, 'length', 571);
    const setup = editor.editSetup(start.setup, 'load.riderKg', 91);
    if (!edited.ok || !setup.ok) throw new Error('the edits were refused');
    const { fields } = editor.describePattern(start.pattern);
    expect(whatChanged(start, { ...start, pattern: edited.value }, fields).says).toMatch(/^Overall length: .* → 571$/);
    expect(whatChanged(start, { ...start, setup: setup.value }, fields).says).toMatch(/rider \(kg\): \d+ → 91$/);
    expect(whatChanged(start, start, fields)).toEqual({ topic: '', says: '' });
  });
});

describe('keys', () => {
  const press = (key: string, held: Partial<Record<'ctrlKey' | 'shiftKey' | 'altKey' | 'metaKey', boolean>> = {}) => ({
    key,
    ctrlKey: false,
    metaKey: false,
    altKey: false,
    shiftKey: false,
    ...held,
  });

  test('no two shortcuts share a key, and each listed key leads to its own', () => {
    const all = SHORTCUTS.flatMap(({ keys }) => keys);
    expect(new Set(all).size).toBe(all.length);
    for (const shortcut of SHORTCUTS)
      for (const name of shortcut.keys) {
        const ctrlKey = name.startsWith('ctrl+');
        const key = name.split('+').at(-1)!;
        const pressed = press(key, { ctrlKey, shiftKey: name.includes('shift+') || key === '?' });
        expect(shortcutFor(pressed, 'free', false)).toBe(shortcut);
        expect(shortcutFor(pressed, 'typing', false)).toBe(null);
      }
  });

  test('on the desk only its own list opens; a plain key leaves sliders and lists alone', () => {
    expect(shortcutFor(press('z', { ctrlKey: true }), 'free', true)).toBe(null);
    expect(shortcutFor(press('?', { shiftKey: true }), 'free', true)?.says).toBe('This list');
    expect(shortcutFor(press('1'), 'field', false)).toBe(null);
    expect(shortcutFor(press('z', { metaKey: true }), 'field', false)?.says).toBe('Undo');
  });
});
