import { beforeEach, describe, expect, test } from 'vitest';
import { demoPattern } from '../files/demos.ts';
import { loadEditor, openPattern, setValue, undo } from './actions.ts';
import { documentStore } from './stores.ts';
import { forgetVersion, goToVersion, keepVersion, versions } from './versions.ts';

const held = () => versions.store.getState().value;
const slope = () => documentStore.getState().pattern.values.slopeFront;

describe('versions of the pattern', () => {
  beforeEach(async () => {
    await loadEditor();
    versions.put([]);
    openPattern(demoPattern('post'));
  });

  test('each says what changed since the one before, in the value’s own unit', async () => {
    await keepVersion('Post, first', () => new Date('2026-11-26T08:00:00Z'));
    setValue('slopeFront', 45);
    setValue('flareLiftFront', '3/4 in');
    await keepVersion('Post, wider');
    expect(held().map(({ name, since }) => [name, since])).toEqual([
      ['Post, first', null],
      ['Post, wider', 'Post, first'],
    ]);
    expect(held()[0]!.keptAt).toBe('2026-11-26T08:00:00.000Z');
    const changes = held()[1]!.changes.map(({ key, parentValue, value }) => [key, parentValue, value]);
    expect(changes).toHaveLength(2);
    expect(changes).toContainEqual(['slopeFront', 43, 45]);
    expect(changes.find(([key]) => key === 'flareLiftFront')![2]).toBeCloseTo(19.05, 9);
  });

  test('going back is one step of undo, and brings every number', async () => {
    const keeping = keepVersion('Post, first');
    setValue('slopeFront', 51);
    await keeping;
    undo();
    const before = documentStore.getState().pattern;
    setValue('slopeFront', 49);
    expect(goToVersion(held()[0]!.id)).toEqual({ ok: true });
    expect(documentStore.getState().pattern).toMatchObject({ values: before.values, name: 'Post, first' });
    undo();
    expect(slope()).toBe(49);
  });

  test('the oldest goes when there are more than sixty; one can be forgotten', async () => {
    for (let i = 1; i <= 62; i++) await keepVersion(`Post ${i}`);
    expect(held()).toHaveLength(60);
    expect(held()[0]!.name).toBe('Post 3');
    forgetVersion(held()[0]!.id);
    expect(held()[0]!.name).toBe('Post 4');
    expect(goToVersion(1)).toEqual({ ok: true });
    expect(slope()).toBe(43);
  });
});
