import { NOTICE_TEXTS, REFUSAL_TEXTS } from '../look/texts/refusals.ts';
import { loadEditor, refuse } from '../state/actions.ts';
import type { EditOutcome } from '../state/documents.ts';
import { documentStore, resultStore } from '../state/stores.ts';
import { setView } from '../state/view-actions.ts';
import { documentsOf } from './bench-file.ts';
import { carriesBench, textIn } from './link.ts';

/** Puts a whole bench in the place of what lies there, as one step of undo. Refused whole where any part of it is. */
export async function openBench(json: unknown, file?: string): Promise<EditOutcome> {
  const editor = await loadEditor();
  const read = editor.attempt(() => {
    const bench = editor.readBench(json, file);
    const pattern = editor.checkPattern(bench.pattern, file);
    if (!pattern.ok) throw new editor.InputError({ ...pattern.error, field: `pattern.${pattern.error.field ?? ''}` });
    return documentsOf(bench);
  });
  if (!read.ok) return refuse('file', file ?? '', read.error);
  resultStore.setState({ refused: null });
  documentStore.setState(read.value.documents);
  setView(read.value.look);
  return { ok: true };
}

const LINK = REFUSAL_TEXTS.link.name;

/**
 * Opens the bench that the page's address carries, if any, and takes it out of the address: a reload goes on with the work
 * on the bench. What can't be read is said, and the bench stays.
 */
export async function openLink(): Promise<void> {
  const { hash } = window.location;
  if (!carriesBench(hash)) return;
  window.history.replaceState(null, '', window.location.pathname + window.location.search);
  const editor = await loadEditor();
  try {
    const text = await textIn(hash);
    const json = editor.attempt(() => editor.parseJson(text));
    if (!json.ok) refuse('file', LINK, { ...json.error, file: LINK });
    else if ((await openBench(json.value, LINK)).ok) {
      const { pattern, back } = documentStore.getState();
      const notice = NOTICE_TEXTS.openedLink(pattern.name, back.name);
      resultStore.setState({ notice });
    }
  } catch (error) {
    refuse('file', LINK, {
      code: 'malformed',
      file: LINK,
      got: error instanceof Error ? error.message.slice(0, 80) : REFUSAL_TEXTS.link.noText,
      expected: REFUSAL_TEXTS.link.expected,
      remedy: REFUSAL_TEXTS.link.remedy,
    });
  }
}

/** Links pasted into the address of a page that is open already. */
export function watchLinks(): () => void {
  const changed = (): void => void openLink();
  window.addEventListener('hashchange', changed);
  return () => window.removeEventListener('hashchange', changed);
}
