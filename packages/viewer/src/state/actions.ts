import type { InputErrorDetails, LessonDocument, PatternDocument, Setup } from '@barwright/geometry';
import { REFUSAL_TEXTS } from '../look/texts/refusals.ts';
import type { EditOutcome, OpenedBack, OpenedLesson } from './documents.ts';
import { applyLessonStep } from './lesson-step.ts';
import { heldByLock, movedLock } from './locks.ts';
import { documentStore, resultStore, UNDO_LIMIT, viewStore } from './stores.ts';

type Editor = typeof import('./editor.ts');

let editor: Editor | null = null;

/** Loads what reading and checking needs. Edits before that are refused in words, never lost in silence. */
export async function loadEditor(): Promise<Editor> {
  editor ??= await import('./editor.ts');
  return editor;
}

const NOT_READY: InputErrorDetails = {
  code: 'usage',
  ...REFUSAL_TEXTS.notReady,
};

function settle<T>(
  key: string,
  text: string,
  edit: (with_: Editor) => { ok: true; value: T } | { ok: false; error: InputErrorDetails },
  keep: (value: T) => void,
): EditOutcome {
  const outcome = editor === null ? ({ ok: false, error: NOT_READY } as const) : edit(editor);
  if (!outcome.ok) return refuse(key, text, outcome.error);
  if (resultStore.getState().refused !== null) resultStore.setState({ refused: null });
  keep(outcome.value);
  return { ok: true };
}

/** Shows a refusal at its field; the documents stay. */
export function refuse(key: string, text: string, error: InputErrorDetails): EditOutcome {
  resultStore.setState({ refused: { key, text, error } });
  return { ok: false, error };
}

/**
 * Sets one value of the pattern: a number in the field's unit, or text as a maker writes it ("22 1/4 in", "seatLength + 6.5 in",
 * "flat", "default"). Keys as in `setPatternValue`: `length`, `slopeFront`, `left.slopeFront`, `name`, `notes`.
 */
export function setValue(key: string, value: string | number): EditOutcome {
  const { pattern } = documentStore.getState();
  const held = heldByLesson(key);
  if (held !== null) return refuse(key, String(value), held);
  return settle(
    key,
    String(value),
    (e) => editUnlocked(e, pattern, key, value),
    (next) => documentStore.setState({ pattern: next }),
  );
}

/** The edit, unless a lock of the card holds the value or one that is written with it. */
function editUnlocked(e: Editor, pattern: PatternDocument, key: string, value: string | number) {
  const held = heldByLock(key, pattern, e.describePattern);
  if (held !== null) return { ok: false, error: held } as const;
  const edited = e.editPattern(pattern, key, value);
  const moved = edited.ok ? movedLock(pattern, edited.value, e.describePattern) : null;
  return moved === null ? edited : ({ ok: false, error: moved } as const);
}

/**
 * Sets one value of the setup by its dotted path: `setPositionMm`, `load.riderKg`, `layers.1.thicknessMm`, `legForward`; a
 * list (`shims`), one thing in it (`shims.0`) or `materials` as a whole too. The schema says what it may be.
 */
export function setSetup(path: string, value: unknown): EditOutcome {
  const { setup } = documentStore.getState();
  const held = heldByLesson(`setup.${path}`);
  if (held !== null) return refuse(`setup.${path}`, String(value), held);
  return settle(
    `setup.${path}`,
    typeof value === 'object' ? path : String(value),
    (e) => e.editSetup(setup, path, value),
    (next) => documentStore.setState({ setup: next }),
  );
}

export function openPattern(json: unknown, file?: string): EditOutcome {
  return settle(
    'file',
    file ?? '',
    (e) => e.checkPattern(json, file),
    (pattern: PatternDocument) => documentStore.setState({ pattern }),
  );
}

export function openSetup(json: unknown, file?: string): EditOutcome {
  return settle(
    'file',
    file ?? '',
    (e) => e.checkSetup(json, file),
    (setup: Setup) => documentStore.setState({ setup }),
  );
}

/** The worker checks a back when it builds it; a back that can't be built shows as an error and can be undone. */
export function openBack(back: OpenedBack): void {
  documentStore.setState({ back });
}

/** Opens a lesson at its first step. `patterns` and `backs` hold every document that its steps name. */
export function openLesson(lesson: Omit<OpenedLesson, 'step'>): EditOutcome {
  const outcome = goToStep(0, { ...lesson, step: 0 });
  if (outcome.ok) viewStore.setState({ answers: {} });
  return outcome;
}

/** Goes to a step of the open lesson: sets up what it names, in one step of undo. */
export function goToStep(step: number, lesson = documentStore.getState().lesson): EditOutcome {
  if (lesson === null) return { ok: true };
  return settle(
    'lesson',
    lesson.document.name,
    (e) => applyLessonStep(e, lesson, step),
    (next) => {
      documentStore.setState(next);
      lookWhere(next.lesson?.document.steps[next.lesson.step]);
    },
  );
}

function lookWhere(step: LessonDocument['steps'][number] | undefined): void {
  if (step === undefined) return;
  viewStore.setState({ lookAt: step.lookAt, cutOpen: step.lookAt === 'cut' });
}

/** A value that the open lesson's step holds fast, so that one thing changes at a time. */
function heldByLesson(key: string): InputErrorDetails | null {
  const { lesson, setup } = documentStore.getState();
  const held = lesson?.document.steps[lesson.step]?.locked ?? [];
  // A lesson names a layer, the page counts them.
  const name = key
    .replace(/^left\./, '')
    .replace(/^(setup\.layers\.)(\d+)/, (_, list, place) => `${list}${setup.layers[Number(place)]?.name ?? place}`);
  if (!held.some((locked) => name === locked || name.startsWith(`${locked}.`))) return null;
  return {
    code: 'forbidden',
    field: key,
    ...REFUSAL_TEXTS.heldByLesson,
  };
}

export function closeLesson(): void {
  documentStore.setState({ lesson: null });
  viewStore.setState({ lookAt: null, answers: {} });
}

/** Makes the pattern as it stands the parent of what follows, under a new name. */
export function startFromHere(name: string): void {
  const { pattern } = documentStore.getState();
  const { name: parentName, values, stations, leftValues } = pattern;
  documentStore.setState({ pattern: { ...pattern, name, parent: { name: parentName, values, stations, leftValues } } });
}

let dragStart: ReturnType<typeof documentStore.getState> | null = null;

/** From here to endDrag all edits are one step of undo. */
export function beginDrag(): void {
  if (dragStart !== null) return;
  dragStart = documentStore.getState();
  documentStore.temporal.getState().pause();
}

export function endDrag(): void {
  if (dragStart === null) return;
  const before = dragStart;
  dragStart = null;
  const history = documentStore.temporal;
  history.getState().resume();
  if (before === documentStore.getState()) return;
  history.setState(({ pastStates }) => ({ pastStates: [...pastStates, before].slice(-UNDO_LIMIT), futureStates: [] }));
}

export function undo(): void {
  endDrag();
  documentStore.temporal.getState().undo();
}

export function redo(): void {
  endDrag();
  documentStore.temporal.getState().redo();
}
