import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { DEMO_LESSONS, DEMO_PATTERNS, FIRST_DOCUMENTS } from '../files/demos.ts';
import { gatherLesson } from '../files/gather-lesson.ts';
import { answer, isAsking } from '../lesson/asking.ts';
import {
  beginDrag,
  closeLesson,
  endDrag,
  goToStep,
  loadEditor,
  openLesson,
  openPattern,
  redo,
  setSetup,
  setValue,
  startFromHere,
  undo,
} from './actions.ts';
import { describeChanges } from './describe-changes.ts';
import type { OpenedLesson } from './documents.ts';
import { followFinding } from './follow-finding.ts';
import { setAtPath } from './set-at-path.ts';
import { documentStore, resultStore, viewStore } from './stores.ts';
import { nextVersionName } from './version-name.ts';

const now = () => documentStore.getState();
const pastSteps = () => documentStore.temporal.getState().pastStates.length;

beforeAll(async () => {
  describeChanges(await loadEditor());
});

beforeEach(async () => {
  const editor = await loadEditor();
  documentStore.setState({ ...FIRST_DOCUMENTS, setup: editor.setupDefaults() });
  documentStore.temporal.getState().clear();
  resultStore.setState({ refused: null });
});

describe('edits', () => {
  test('a value is one step of undo, back and forth', () => {
    expect(setValue('slopeFront', '41.5')).toEqual({ ok: true });
    expect(now().pattern.values.slopeFront).toBe(41.5);
    undo();
    expect(now().pattern.values.slopeFront).toBe(43);
    redo();
    expect(now().pattern.values.slopeFront).toBe(41.5);
  });

  test('shop numbers and expressions are kept as written and resolved for the card', () => {
    expect(setValue('length', '22 1/4 in')).toEqual({ ok: true });
    expect(now().pattern.values.length).toBe('22 1/4 in');
    expect(resultStore.getState().pattern!.values.length).toBeCloseTo(565.15, 9);
    expect(setValue('length', 'seatLength + 6.5 in')).toEqual({ ok: true });
    expect(resultStore.getState().pattern!.values.length).toBeCloseTo(558.8, 9);
  });

  test('a refused edit leaves the documents as they are, says why at its field, and goes with the next good one', () => {
    const before = now();
    const outcome = setValue('slopeFront', '95');
    expect(outcome).toMatchObject({ ok: false, error: { code: 'out-of-range' } });
    expect(now()).toBe(before);
    expect(pastSteps()).toBe(0);
    expect(resultStore.getState().refused).toMatchObject({ key: 'slopeFront', text: '95' });
    setValue('slopeFront', 40);
    expect(resultStore.getState().refused).toBeNull();
  });

  test('the setup is edited by path and checked', () => {
    expect(setSetup('load.riderKg', 72)).toEqual({ ok: true });
    expect(setSetup('layers.1.thicknessMm', 12)).toEqual({ ok: true });
    expect(now().setup.load.riderKg).toBe(72);
    expect(now().setup.layers.map(({ thicknessMm }) => thicknessMm)).toEqual([0, 12]);
    expect(setSetup('load.riderKg', -3)).toMatchObject({ ok: false });
    expect(setSetup('load.nothingOfTheKind', 3)).toMatchObject({ ok: false });
    expect(now().setup.load.riderKg).toBe(72);
  });
});

describe('drags', () => {
  test('all moves of a drag are one step, and later edits are steps of their own', () => {
    beginDrag();
    for (let slope = 43; slope > 38; slope -= 0.5) setValue('slopeFront', slope);
    endDrag();
    expect(pastSteps()).toBe(1);
    setValue('slopeRear', 22);
    expect(pastSteps()).toBe(2);
    undo();
    undo();
    expect(now().pattern.values.slopeFront).toBe(43);
    redo();
    expect(now().pattern.values.slopeFront).toBe(38.5);
  });

  test('a drag that ends where it began, or was never moved, leaves no step', () => {
    beginDrag();
    endDrag();
    endDrag();
    expect(pastSteps()).toBe(0);
  });

  test('undo in the middle of a drag ends it first', () => {
    beginDrag();
    setValue('slopeFront', 40);
    undo();
    expect(now().pattern.values.slopeFront).toBe(43);
  });
});

describe('documents', () => {
  test.each(DEMO_PATTERNS.map(({ id, json }) => [id, json] as const))('demo pattern %s opens', (_, json) => {
    expect(openPattern(json)).toEqual({ ok: true });
    expect(resultStore.getState().pattern!.values.length).toBeGreaterThan(400);
  });

  test('a file that is no pattern is refused by name and nothing changes', () => {
    const before = now();
    expect(openPattern({ schema: 'barwright/pattern/1', name: 'x' }, 'x.pattern.json')).toMatchObject({
      ok: false,
      error: { file: 'x.pattern.json' },
    });
    expect(now()).toBe(before);
  });

  test('a version started from here shows its changes from what it was', () => {
    startFromHere('Post, wider');
    setValue('slopeFront', 40);
    const { parentName, differences } = resultStore.getState().pattern!;
    expect(parentName).toBe('Post');
    expect(differences.map(({ key, delta }) => [key, delta])).toEqual([['slopeFront', -3]]);
  });

  test('a path sets what it names and cannot reach a prototype', () => {
    expect(setAtPath({ a: [{ b: 1 }, { b: 2 }] }, 'a.1.b', 5)).toEqual({ a: [{ b: 1 }, { b: 5 }] });
    expect(setAtPath({ a: 1 }, '__proto__.polluted', true)).toEqual({ a: 1 });
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });
});

test.each([
  ['Post', 'Post, version 2'],
  ['Post, version 2', 'Post, version 3'],
  ['Post 18', 'Post 18, version 2'],
  ['x'.repeat(120), `${'x'.repeat(100)}, version 2`],
])('a version of %s is called %s', (name, next) => {
  expect(nextVersionName(name)).toBe(next);
});

describe('the chosen finding', () => {
  const [bridges, left, right, both] = [
    { code: 'bridging', side: 'both' },
    { code: 'too-steep', side: 'left' },
    { code: 'too-steep', side: 'right' },
    { code: 'too-steep', side: 'both' },
  ] as const;

  test.each([
    ['keeps its kind and side when the order changes', 2, [bridges, left, right], [right, left, bridges], 0],
    ['goes with its kind when both sides become one', 2, [bridges, left, right], [bridges, both], 1],
    ['is let go of when its kind is gone', 0, [bridges, left], [left], null],
    ['stays none', null, [bridges], [bridges], null],
    ['is none when it pointed nowhere', 5, [bridges], [bridges], null],
  ] as const)('%s', (_, chosen, before, after, index) => {
    expect(followFinding(chosen, before, after)).toBe(index);
  });
});

describe('lessons', () => {
  const step = { title: 'A', sentence: 'One.', back: 'dumpling.back.json', lookAt: 'ruler', locked: [] };
  const json = {
    schema: 'barwright/lesson/1',
    name: 'Three faults in one',
    sentence: 'One at a time.',
    steps: [
      { ...step, pattern: 'rail.pattern.json' },
      {
        ...step,
        pattern: { base: 'rail.pattern.json', set: { length: '500 mm' } },
        setup: { 'load.riderKg': 70 },
        lookAt: 'cut',
        locked: ['slopeFront'],
      },
      { ...step, pattern: { base: 'rail.pattern.json', set: { slopeFront: 99 } } },
    ],
  };
  const gather = async (lesson: unknown = json) => {
    const editor = await loadEditor();
    return editor.attempt(() => gatherLesson(editor, lesson, 'l.lesson.json', { patterns: [], backs: [] }));
  };
  const open = async () => {
    const gathered = await gather();
    return openLesson((gathered as { value: Omit<OpenedLesson, 'step'> }).value);
  };

  test('steps set up what they name, one step of undo each, and say where to look', async () => {
    expect(await open()).toEqual({ ok: true });
    expect([now().pattern.name, now().back.name, now().lesson!.step]).toEqual(['Rail', 'Dumpling', 0]);
    expect(viewStore.getState().lookAt).toBe('ruler');
    expect(goToStep(1)).toEqual({ ok: true });
    expect([now().pattern.values.length, now().setup.load.riderKg, now().lesson!.step]).toEqual(['500 mm', 70, 1]);
    expect(viewStore.getState().cutOpen).toBe(true);
    undo();
    expect([now().pattern.values.length, now().lesson!.step]).toEqual([630, 0]);
  });

  test('a value that a step holds is refused until the lesson is closed', async () => {
    await open();
    goToStep(1);
    expect(setValue('slopeFront', 30)).toMatchObject({ ok: false, error: { code: 'forbidden' } });
    expect(setValue('left.slopeFront', 30)).toMatchObject({ ok: false, error: { code: 'forbidden' } });
    expect(setValue('slopeRear', 22)).toEqual({ ok: true });
    closeLesson();
    expect(setValue('slopeFront', 38)).toEqual({ ok: true });
  });

  test('a value of the setup that a step holds is refused, and what lies within it', async () => {
    const held = {
      ...json,
      steps: [{ ...json.steps[0], locked: ['setup.setPositionMm', 'setup.load', 'setup.layers.pad.thicknessMm'] }],
    };
    openLesson(((await gather(held)) as { value: Omit<OpenedLesson, 'step'> }).value);
    expect(setSetup('setPositionMm', 0)).toMatchObject({ ok: false, error: { code: 'forbidden' } });
    expect(setSetup('load.riderKg', 70)).toMatchObject({ ok: false, error: { field: 'setup.load.riderKg' } });
    expect(setSetup('layers.1.thicknessMm', 12)).toMatchObject({ ok: false, error: { code: 'forbidden' } });
    expect(setSetup('layers.0.thicknessMm', 12)).toEqual({ ok: true });
    expect(setSetup('legForward', 'left')).toEqual({ ok: true });
    closeLesson();
    expect(setSetup('setPositionMm', 0)).toEqual({ ok: true });
  });

  test('a step that asks keeps its figures back until it is answered, and asks anew when the lesson is opened again', async () => {
    const asking = { ...json, steps: [{ ...json.steps[0], ask: { question: 'What bears?' } }, json.steps[1]] };
    const lesson = ((await gather(asking)) as { value: Omit<OpenedLesson, 'step'> }).value;
    const waits = (): boolean => isAsking(now().lesson, viewStore.getState().answers);
    expect(waits()).toBe(false);
    openLesson(lesson);
    expect(waits()).toBe(true);
    goToStep(1);
    expect(waits()).toBe(false);
    goToStep(0);
    answer('The ends');
    expect([waits(), viewStore.getState().answers[0]]).toEqual([false, 'The ends']);
    openLesson(lesson);
    expect(waits()).toBe(true);
    closeLesson();
    expect(waits()).toBe(false);
  });

  test('a step that asks for what cannot be is refused and leaves the bench as it was', async () => {
    await open();
    const before = now();
    expect(goToStep(2)).toMatchObject({ ok: false });
    expect(now()).toBe(before);
  });

  test('a document that is nowhere is named', async () => {
    const odd = { ...json, steps: [{ ...step, pattern: 'mine.pattern.json' }] };
    expect(await gather(odd)).toMatchObject({ ok: false, error: { code: 'missing', got: 'mine.pattern.json' } });
  });

  test.each(DEMO_LESSONS.map(({ id, json: lesson }) => [id, lesson] as const))(
    'every step of demo %s plays',
    async (_, lesson) => {
      const gathered = await gather(lesson);
      const value = (gathered as { value: Omit<OpenedLesson, 'step'> }).value;
      openLesson(value);
      const played = value.document.steps.map((__, i) => goToStep(i).ok && now().lesson!.step === i);
      expect(played).toEqual(value.document.steps.map(() => true));
    },
  );
});
