import type { InputErrorDetails, LessonDocument } from '@barwright/geometry';
import { createStore, useStore } from 'zustand';
import { changed, type History, redone, startHistory, undone } from '../desk/history.ts';
import { fileNameFor, saveBlob, saveJson } from '../files/save-file.ts';
import { documentStore, loadEditor, openLesson, setView } from '../state/index.ts';
import { type Draft, documentOf, EMPTY_DRAFT, takeStep } from './draft.ts';
import { keepDraft, readDraft } from './keep-draft.ts';
import { SHELF } from './shelf.ts';

export interface Writing {
  /** Undo is the writer's own: the bench beside it has another. */
  readonly drafts: History<Draft>;
  readonly problem: InputErrorDetails | null;
  /** Whether this browser has it as it stands. */
  readonly kept: 'kept' | 'keeping' | 'lost';
}

/** The lesson that is being written in this tab. */
export const writerStore = createStore<Writing>()(() => ({
  drafts: startHistory(EMPTY_DRAFT),
  problem: null,
  kept: 'kept',
}));

export const useWriting = <T>(selector: (writing: Writing) => T): T => useStore(writerStore, selector);

const drafted = (): Draft => writerStore.getState().drafts.now;

function put(drafts: History<Draft>): void {
  writerStore.setState({ drafts, problem: null, kept: 'keeping' });
  keepDraft(drafts.now, (isKept) => writerStore.setState({ kept: isKept ? 'kept' : 'lost' }));
}

/** Takes a change; those about the same thing, one after the other, are one step of undo. */
export const editDraft = (draft: Draft, about: string | null = null): void =>
  put(changed(writerStore.getState().drafts, draft, about));

export const undoDraft = (): void => put(undone(writerStore.getState().drafts));
export const redoDraft = (): void => put(redone(writerStore.getState().drafts));
export const beginAnew = (): void => editDraft(EMPTY_DRAFT);

let restoring: Promise<void> | null = null;

/** Brings back, once for a page, what this tab was writing before. What is written meanwhile stays. */
export function restoreDraft(): Promise<void> {
  restoring ??= readDraft().then((kept) => {
    if (kept !== null && drafted() === EMPTY_DRAFT) writerStore.setState({ drafts: startHistory(kept) });
  });
  return restoring;
}

/** The bench as it stands becomes the last step. */
export async function takeBench(): Promise<void> {
  const editor = await loadEditor();
  const taken = takeStep(editor, drafted(), documentStore.getState(), SHELF);
  if (taken.ok) editDraft(taken.value);
  else writerStore.setState({ problem: taken.error });
}

/** Goes on with the lesson that is open on the bench. */
export function takeOpenLesson(): void {
  const { lesson } = documentStore.getState();
  if (lesson === null) return;
  const { document, patterns, backs } = lesson;
  editDraft({ name: document.name, sentence: document.sentence, steps: document.steps, patterns, backs });
}

/** The draft as a lesson that reads; null where it does not yet, with what is missing said. */
async function readAsLesson(): Promise<LessonDocument | null> {
  const editor = await loadEditor();
  const draft = drafted();
  const read = editor.attempt(() => editor.readLesson(documentOf(draft)));
  if (!read.ok) {
    writerStore.setState({ problem: read.error });
    return null;
  }
  writerStore.setState({ problem: null });
  return read.value;
}

/** Plays the draft on the bench from its first step. */
export async function playDraft(): Promise<void> {
  const document = await readAsLesson();
  if (document === null) return;
  const { patterns, backs } = drafted();
  const opened = openLesson({ document, patterns, backs });
  if (opened.ok) setView({ lessonSheet: null });
  else writerStore.setState({ problem: opened.error });
}

/** Saves the lesson, and beside it every document of its own that its steps name. */
export async function saveDraft(): Promise<void> {
  const document = await readAsLesson();
  if (document === null) return;
  const editor = await loadEditor();
  const { patterns, backs } = editor.lessonFiles(document);
  const draft = drafted();
  saveJson(document, fileNameFor(document.name, 'lesson'));
  for (const file of patterns.filter((name) => !Object.hasOwn(SHELF.patterns, name)))
    saveJson(draft.patterns[file], file);
  for (const file of backs.filter((name) => !Object.hasOwn(SHELF.backs, name))) {
    const { json, mesh } = draft.backs[file]!;
    saveJson(json, file);
    if (mesh !== null) saveBlob(new Blob([mesh.bytes as Uint8Array<ArrayBuffer>]), mesh.fileName);
  }
}
