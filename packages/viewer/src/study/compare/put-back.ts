import { COMPARE_TEXTS } from '../../look/texts/compare.ts';
import { loadEditor, refuse } from '../../state/actions.ts';
import { documentStore, resultStore } from '../../state/stores.ts';
import type { KeptResult } from './kept-store.ts';

/** Pattern, horse and setup of a kept result onto the bench, in one step of undo; read again as if they came from files. */
export async function putBack({ name, documents }: KeptResult): Promise<void> {
  const editor = await loadEditor();
  const pattern = editor.checkPattern(documents.pattern);
  const setup = editor.checkSetup(documents.setup);
  const refused = [pattern, setup].find((read) => !read.ok);
  if (refused !== undefined && !refused.ok) {
    refuse('file', name, refused.error);
    return;
  }
  if (!pattern.ok || !setup.ok) return;
  documentStore.setState({ pattern: pattern.value, setup: setup.value, back: documents.back });
  resultStore.setState({ notice: COMPARE_TEXTS.compare.liesOnBench(name) });
}
