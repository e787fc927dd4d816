import type { BackDocument } from '@barwright/geometry';
import { openDesk } from '../desk/desk-store.ts';
import { rememberOpened } from '../habits/recent.ts';
import { openBench } from '../share/open-bench.ts';
import { loadEditor, openBack, openLesson, openPattern, openSetup, refuse } from '../state/actions.ts';
import type { EditOutcome } from '../state/documents.ts';
import { resultStore } from '../state/stores.ts';
import { openStudy } from '../study/study-store.ts';
import { DEMO_LESSONS } from './demos.ts';
import { gatherLesson } from './gather-lesson.ts';
import { kindOfFile } from './kind-of-file.ts';
import { type ReadFile, type SortedFiles, sortFiles } from './sort-files.ts';

/** Opens whatever was picked or dropped, as one step of undo each. What can't be opened is said; the rest is opened. */
export async function openFiles(files: Iterable<File>): Promise<void> {
  const editor = await loadEditor();
  resultStore.setState({ refused: null, notice: null });
  const all = [...files];
  const read: ReadFile[] = [];
  const images: File[] = [];
  for (const file of all) {
    const kind = await kindOfFile(file);
    if (kind === 'image') images.push(file);
    else if (kind === 'json') {
      const text = await file.text();
      const parsed = editor.attempt(() =>
        editor.parseJson(text, file.name, isBench(file.name) ? editor.BENCH_LIMITS : undefined),
      );
      if (parsed.ok) read.push({ kind, fileName: file.name, json: parsed.value });
      else refuse('file', file.name, parsed.error);
    } else read.push({ kind, fileName: file.name, bytes: new Uint8Array(await file.arrayBuffer()) });
  }
  const sorted = sortFiles(read);
  for (const { fileName, json } of sorted.benches) {
    if ((await openBench(json, fileName)).ok) resultStore.setState({ notice: `Opened ${fileName}.` });
  }
  openSorted(sorted, editor);
  await openForSizing(sorted);
  await openForRiding(sorted);
  if (images.length > 0) openDesk({ kind: 'photo', images });
  await rememberOpened(all);
}

const isBench = (name: string): boolean => /\.bench\.json$/i.test(name);

function openSorted(sorted: SortedFiles, editor: Awaited<ReturnType<typeof loadEditor>>): void {
  const opened: string[] = [];
  const note = (name: string, outcome: EditOutcome): void => {
    if (outcome.ok) opened.push(name);
  };
  for (const { fileName, json } of sorted.patterns) note(fileName, openPattern(json, fileName));
  for (const { fileName, json } of sorted.setups) note(fileName, openSetup(json, fileName));
  for (const { fileName, json, mesh } of sorted.backs) {
    const checked = editor.attempt(() => editor.readBack(json, fileName));
    if (!checked.ok) note(fileName, refuse('file', fileName, checked.error));
    else if (hasOpenQuestions(editor, checked.value)) openDesk({ kind: 'tracings', fileName, source: { json } });
    else {
      openBack({ name: checked.value.name, json, mesh });
      opened.push(fileName);
    }
  }
  for (const { fileName, json } of sorted.lessons) {
    const lesson = editor.attempt(() => gatherLesson(editor, json, fileName, sorted));
    note(fileName, lesson.ok ? openLesson(lesson.value) : refuse('file', fileName, lesson.error));
  }
  for (const error of sorted.refused) refuse('file', error.file ?? '', error);
  const [tracings] = sorted.tracings;
  if (tracings !== undefined) {
    openDesk({ kind: 'tracings', fileName: tracings.fileName, source: { bytes: tracings.bytes } });
  }
  const [loose] = sorted.looseMeshes;
  if (loose !== undefined) openDesk({ kind: 'scan', fileName: loose.fileName, bytes: loose.bytes });
  if (opened.length > 0) resultStore.setState({ notice: `Opened ${opened.join(', ')}.` });
}

/** A kind of riding goes to its study, which opens on the last of them. */
async function openForRiding({ ridings }: SortedFiles): Promise<void> {
  const last = ridings.at(-1);
  if (last === undefined) return;
  const { takeRiding } = await import('../study/riding/riding-store.ts');
  takeRiding(last.json, last.fileName);
  openStudy('riding');
}

/** Riders and shelves go to the sizing study, which opens on them. */
async function openForSizing({ riders, shelves, patterns }: SortedFiles): Promise<void> {
  if (riders.length + shelves.length === 0) return;
  const { takeOpened } = await import('../study/sizing/read-opened.ts');
  const { taken, refused } = takeOpened(riders, shelves, patterns);
  for (const error of refused) refuse('file', error.file ?? '', error);
  if (taken.length === 0) return;
  openStudy('sizing');
  const { notice } = resultStore.getState();
  resultStore.setState({ notice: `${notice === null ? '' : `${notice} `}Sizing: ${taken.join(', ')}.` });
}

function hasOpenQuestions(editor: Awaited<ReturnType<typeof loadEditor>>, document: BackDocument): boolean {
  if (document.kind !== 'tracings') return false;
  const asked = editor.attempt(() => editor.checkTracings(document));
  return asked.ok && asked.value.some(({ blocking }) => blocking);
}

/** Files that `barwright view` serves beside the page: a list of names and addresses. */
export async function openServedFiles(listAddress: string): Promise<void> {
  const answer = await fetch(listAddress);
  if (!answer.ok) return;
  const list = (await answer.json()) as { name: string; url: string }[];
  const files = await Promise.all(
    list.map(
      async ({ name, url }) =>
        new File([await (await fetch(new URL(url, new URL(listAddress, document.baseURI)))).blob()], name),
    ),
  );
  await openFiles(files);
}

/** A lesson from the demo shelf. */
export async function openDemoLesson(id: string): Promise<void> {
  const editor = await loadEditor();
  const demo = DEMO_LESSONS.find((item) => item.id === id);
  if (demo === undefined) return;
  const file = `${demo.id}.lesson.json`;
  const lesson = editor.attempt(() => gatherLesson(editor, demo.json, file, { patterns: [], backs: [] }));
  if (lesson.ok) openLesson(lesson.value);
  else refuse('lesson', file, lesson.error);
}
