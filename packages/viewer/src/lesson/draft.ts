import type { InputErrorDetails, LessonStep, PatternDocument, Setup } from '@barwright/geometry';
import { REFUSAL_TEXTS } from '../look/texts/refusals.ts';
import type { Documents, OpenedBack } from '../state/index.ts';

type Editor = Pick<
  typeof import('../state/editor.ts'),
  'checkPattern' | 'editPatternBy' | 'editSetupBy' | 'setupDefaults'
>;
type Changes = Record<string, number | string>;
type Taken<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly error: InputErrorDetails };

/** A lesson while it is written, with the documents that its steps stand on. */
export interface Draft {
  readonly name: string;
  readonly sentence: string;
  readonly steps: readonly LessonStep[];
  readonly patterns: Readonly<Record<string, unknown>>;
  readonly backs: Readonly<Record<string, OpenedBack>>;
}

/** Documents that every bench has, by the name of their file. */
export interface Shelf {
  readonly patterns: Readonly<Record<string, unknown>>;
  readonly backs: Readonly<Record<string, OpenedBack>>;
}

export const EMPTY_DRAFT: Draft = Object.freeze({ name: '', sentence: '', steps: [], patterns: {}, backs: {} });

/**
 * The draft with the bench as its last step: the pattern as changes to one that the draft or the shelf has, or as a file of
 * its own; the setup as changes to the default. What a lesson can't hold (shims, curves, other layers) is refused, not lost.
 */
export function takeStep(editor: Editor, draft: Draft, bench: Omit<Documents, 'lesson'>, shelf: Shelf): Taken<Draft> {
  const setup = setupChanges(editor, bench.setup);
  if (!setup.ok) return setup;
  const pattern = patternOf(editor, bench.pattern, { ...draft.patterns, ...shelf.patterns });
  const back = backOf(bench.back, { ...draft.backs, ...shelf.backs });
  const isPlain = Object.keys(pattern.set).length === 0;
  const step: LessonStep = {
    title: `Step ${draft.steps.length + 1}`,
    sentence: '',
    pattern: isPlain ? pattern.file : { base: pattern.file, set: pattern.set },
    back: back.file,
    setup: setup.value,
    lookAt: 'ruler',
    locked: [],
  };
  const steps = [...draft.steps, step];
  return {
    ok: true,
    value: {
      ...draft,
      steps,
      patterns: { ...draft.patterns, [pattern.file]: pattern.json },
      backs: { ...draft.backs, [back.file]: back.opened },
    },
  };
}

export const changeStep = (draft: Draft, at: number, change: Partial<LessonStep>): Draft => ({
  ...draft,
  steps: draft.steps.map((step, i) => (i === at ? { ...step, ...change } : step)),
});

export const removeStep = (draft: Draft, at: number): Draft => ({
  ...draft,
  steps: draft.steps.filter((_, i) => i !== at),
});

/** One step brought a place up (-1) or down (+1). */
export function moveStep(draft: Draft, at: number, by: -1 | 1): Draft {
  const to = at + by;
  if (to < 0 || to >= draft.steps.length) return draft;
  const steps = [...draft.steps];
  [steps[at], steps[to]] = [steps[to]!, steps[at]!];
  return { ...draft, steps };
}

/** The lesson document of a draft, to be read as any other; a question that is empty is none. */
export function documentOf({ name, sentence, steps }: Draft): Record<string, unknown> {
  return {
    schema: 'barwright/lesson/1',
    name,
    sentence,
    steps: steps.map(({ ask, ...step }) =>
      ask === undefined || ask.question.trim() === ''
        ? step
        : { ...step, ask: { ...ask, choices: ask.choices.filter((choice) => choice.trim() !== '') } },
    ),
  };
}

/** Of these keys, those that the step leaves as they were in the step before: what can be held. */
export function unchangedKeys({ steps }: Draft, at: number, keys: readonly string[]): string[] {
  const [last, step] = [steps[at - 1], steps[at]!];
  if (last === undefined) return [...keys];
  const setOf = ({ pattern }: LessonStep): Changes => (typeof pattern === 'string' ? {} : pattern.set);
  const before = { ...setOf(last), ...underSetup(last.setup) };
  const now = { ...setOf(step), ...underSetup(step.setup) };
  const changed = [...new Set([...Object.keys(before), ...Object.keys(now)])].filter((key) => before[key] !== now[key]);
  return keys.filter((key) => !changed.some((other) => other === key || other.startsWith(`${key}.`)));
}

const underSetup = (setup: Changes): Changes =>
  Object.fromEntries(Object.entries(setup).map(([key, value]) => [`setup.${key}`, value]));

function patternOf(
  editor: Editor,
  pattern: PatternDocument,
  known: Readonly<Record<string, unknown>>,
): { file: string; json: unknown; set: Changes } {
  for (const [file, json] of Object.entries(known)) {
    const base = editor.checkPattern(json, file);
    if (!base.ok || base.value.name !== pattern.name) continue;
    const set = patternChanges(base.value, pattern);
    const again = editor.editPatternBy(base.value, Object.entries(set));
    if (again.ok && isSame(shapeOf(again.value), shapeOf(pattern))) return { file, json, set };
  }
  return { file: freeName(pattern.name, 'pattern', known), json: pattern, set: {} };
}

const shapeOf = ({ values, leftValues, stations, materials }: PatternDocument): unknown => ({
  values,
  leftValues,
  stations,
  materials,
});

function patternChanges(base: PatternDocument, pattern: PatternDocument): Changes {
  return {
    ...differing(base.values, pattern.values, ''),
    ...differing(base.leftValues, pattern.leftValues, 'left.'),
    ...differing(base.materials ?? {}, pattern.materials ?? {}, 'materials.'),
  };
}

/** Keys whose values differ; one that is gone is written as its default. */
function differing(before: Readonly<Changes>, now: Readonly<Changes>, prefix: string): Changes {
  const keys = [...new Set([...Object.keys(before), ...Object.keys(now)])].filter((key) => before[key] !== now[key]);
  return Object.fromEntries(keys.map((key) => [`${prefix}${key}`, now[key] ?? 'default']));
}

function setupChanges(editor: Editor, setup: Setup): Taken<Changes> {
  const defaults = editor.setupDefaults();
  const before = leavesOf(defaults);
  const changes = Object.entries(leavesOf(setup)).filter(([key, value]) => before[key] !== value);
  const again = editor.editSetupBy(changes);
  if (again.ok && isSame({ ...again.value, name: '' }, { ...setup, name: '' }))
    return { ok: true, value: Object.fromEntries(changes) };
  return {
    ok: false,
    error: {
      code: 'unsupported',
      field: 'setup',
      ...REFUSAL_TEXTS.notForLesson,
    },
  };
}

/** Numbers and words of a setup by dotted key; a layer goes by its name. */
function leavesOf(value: unknown, path = ''): Changes {
  if (typeof value === 'number' || typeof value === 'string')
    return path === 'schema' || path === 'name' ? {} : { [path]: value };
  if (typeof value !== 'object' || value === null) return {};
  const within = Array.isArray(value)
    ? value.map((item, i) => [(item as { name?: string } | null)?.name ?? String(i), item] as const)
    : Object.entries(value);
  return Object.assign({}, ...within.map(([key, item]) => leavesOf(item, path === '' ? key : `${path}.${key}`)));
}

function backOf(opened: OpenedBack, known: Readonly<Record<string, OpenedBack>>): { file: string; opened: OpenedBack } {
  const found = Object.entries(known).find(([, { json, mesh }]) => mesh === opened.mesh && isSame(json, opened.json));
  return found === undefined
    ? { file: freeName(opened.name, 'back', known), opened }
    : { file: found[0], opened: found[1] };
}

function freeName(name: string, kind: 'pattern' | 'back', taken: Readonly<Record<string, unknown>>): string {
  const plain =
    name
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-+|-+$/g, '')
      .slice(0, 60) || kind;
  for (let i = 1; ; i++) {
    const file = `${plain}${i === 1 ? '' : `-${i}`}.${kind}.json`;
    if (!Object.hasOwn(taken, file)) return file;
  }
}

function isSame(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  const [one, two] = [a, b].map((item) => Object.entries(item).filter(([, value]) => value !== undefined));
  const other = b as Record<string, unknown>;
  return one!.length === two!.length && one!.every(([key, value]) => isSame(value, other[key]));
}
