import type { LessonStep } from '@barwright/geometry';
import { beforeAll, describe, expect, test } from 'vitest';
import { FIRST_DOCUMENTS } from '../files/demos.ts';
import * as editor from '../state/editor.ts';
import { applyLessonStep } from '../state/lesson-step.ts';
import {
  changeStep,
  type Draft,
  documentOf,
  EMPTY_DRAFT,
  moveStep,
  removeStep,
  takeStep,
  unchangedKeys,
} from './draft.ts';
import { SHELF } from './shelf.ts';

const { pattern, back } = FIRST_DOCUMENTS;
const setup = editor.setupDefaults();
const edited = <T>(outcome: editor.Edited<T>): T => {
  if (!outcome.ok) throw new Error(outcome.error.expected);
  return outcome.value;
};
const take = (draft: Draft, change: Partial<typeof FIRST_DOCUMENTS & { setup: typeof setup }> = {}) =>
  takeStep(editor, draft, { pattern, back, setup, ...change }, SHELF);

describe('a lesson from the bench', () => {
  const longer = edited(
    editor.editPatternBy(pattern, [
      ['length', '630 mm'],
      ['left.slopeFront', 40],
    ]),
  );
  const padded = edited(
    editor.editSetupBy([
      ['layers.pad.thicknessMm', 40],
      ['load.riderKg', 70],
      ['flex.bars', 'flexible'],
    ]),
  );
  let draft: Draft;
  beforeAll(() => {
    draft = edited(take(edited(take(EMPTY_DRAFT)), { pattern: longer, setup: padded }));
  });

  test('steps stand on the shelf’s own files, with what differs', () => {
    expect(draft.steps.map((step) => [step.pattern, step.back, step.setup])).toEqual([
      ['post.pattern.json', 'dumpling.back.json', {}],
      [
        { base: 'post.pattern.json', set: { length: '630 mm', 'left.slopeFront': 40 } },
        'dumpling.back.json',
        { 'layers.pad.thicknessMm': 40, 'load.riderKg': 70, 'flex.bars': 'flexible' },
      ],
    ]);
  });

  test('played, a step is the bench as it was taken', () => {
    const written = { ...draft, name: 'Mine', sentence: 'One at a time.' };
    const said = written.steps.reduce((d, _, i) => changeStep(d, i, { sentence: 'Look.' }), written);
    const document = edited(editor.attempt(() => editor.readLesson(documentOf(said))));
    const lesson = { document, patterns: draft.patterns, backs: draft.backs, step: 0 };
    const played = edited(applyLessonStep(editor, lesson, 1));
    expect(played.pattern.values).toEqual(longer.values);
    expect(played.pattern.leftValues).toEqual(longer.leftValues);
    expect(played.setup).toEqual(padded);
    expect(played.back.name).toBe(back.name);
  });

  test('a pattern that is on no shelf becomes a file of its own, and later steps are changes to it', () => {
    const mine = { ...pattern, name: 'Mine & yours' };
    const wide = edited(editor.editPatternBy(mine, [['spreadFront', 180]]));
    const own = edited(take(edited(take(EMPTY_DRAFT, { pattern: mine })), { pattern: wide }));
    expect(own.steps.map((step) => step.pattern)).toEqual([
      'mine-yours.pattern.json',
      { base: 'mine-yours.pattern.json', set: { spreadFront: 180 } },
    ]);
    expect(own.patterns['mine-yours.pattern.json']).toEqual(mine);
  });

  test('what a lesson can’t hold is refused in words', () => {
    const shim = {
      name: 'a',
      fixedTo: 'bar',
      side: 'both',
      thicknessMm: 5,
      fromMm: 100,
      toMm: 200,
      innerMm: 80,
      outerMm: 150,
    };
    const shimmed = edited(editor.editSetup(setup, 'shims', [shim]));
    expect(take(EMPTY_DRAFT, { setup: shimmed })).toMatchObject({ ok: false, error: { code: 'unsupported' } });
  });

  test('steps change places and go', () => {
    const titles = ({ steps }: { steps: readonly LessonStep[] }) => steps.map(({ title }) => title);
    expect(titles(moveStep(draft, 0, 1))).toEqual(['Step 2', 'Step 1']);
    expect(moveStep(draft, 0, -1)).toBe(draft);
    expect(titles(removeStep(draft, 0))).toEqual(['Step 2']);
  });

  test('only what a step left alone can be held', () => {
    const keys = ['length', 'slopeFront', 'rockRadius', 'setup.load', 'setup.legForward', 'setup.layers'];
    expect(unchangedKeys(draft, 0, keys)).toEqual(keys);
    expect(unchangedKeys(draft, 1, keys)).toEqual(['slopeFront', 'rockRadius', 'setup.legForward']);
  });

  test('a question without words is none, and empty choices go', () => {
    const asked = changeStep(changeStep(draft, 0, { ask: { question: ' ', choices: [] } }), 1, {
      ask: { question: 'Which?', choices: ['a', '', 'b'] },
    });
    const steps = documentOf(asked).steps as LessonStep[];
    expect(steps.map(({ ask }) => ask)).toEqual([undefined, { question: 'Which?', choices: ['a', 'b'] }]);
  });
});
