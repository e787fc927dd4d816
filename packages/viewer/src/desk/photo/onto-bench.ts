import type { TracingsBackDocument } from '@barwright/geometry';
import { PHOTO_TEXTS } from '../../look/texts/photo.ts';
import { loadEditor, openBack } from '../../state/actions.ts';
import { closeDesk, openDesk } from '../desk-store.ts';

/** Sets the tree on the back when no question stands in the way; otherwise the tracings' desk asks it. */
export async function ontoBench(document_: TracingsBackDocument): Promise<void> {
  const editor = await loadEditor();
  const asked = editor.attempt(() => editor.checkTracings(document_));
  if (!asked.ok || asked.value.some(({ blocking }) => blocking)) return toTracings(document_);
  openBack({ name: document_.name, json: document_, mesh: null });
  closeDesk();
}

export const toTracings = (document_: TracingsBackDocument): void =>
  openDesk({ kind: 'tracings', fileName: PHOTO_TEXTS.out.tracings, source: { json: document_ } });
