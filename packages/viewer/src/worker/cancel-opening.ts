import { FIRST_DOCUMENTS } from '../files/demos.ts';
import { undo } from '../state/actions.ts';
import { documentStore } from '../state/stores.ts';

/**
 * Puts the former back on the bench again; the client then stops the worker. When opening was the last step it is undone, so that redo
 * opens it again; edits made since stay. Where there was no back before, the first demo is put on.
 */
export function cancelOpening(): void {
  const now = documentStore.getState();
  const { pastStates } = documentStore.temporal.getState();
  const before = pastStates.at(-1);
  if (before?.back !== undefined && before.back !== now.back) undo();
  else {
    const former = [...pastStates].reverse().find(({ back }) => back !== undefined && back !== now.back);
    documentStore.setState({ back: former?.back ?? FIRST_DOCUMENTS.back });
  }
}
