import { NOTICE_TEXTS, REFUSAL_TEXTS } from '../look/texts/refusals.ts';
import { loadEditor } from '../state/actions.ts';
import type { Documents } from '../state/documents.ts';
import { documentStore, resultStore } from '../state/stores.ts';
import { clock, habitsStore, type OtherWork } from './habits-store.ts';
import { documentsAt, documentsOf, type KeptState, readSlots } from './slots.ts';

/** Puts an earlier state on the bench, as one step of undo. */
export const goBackTo = (state: KeptState): Promise<void> =>
  putOn(() => documentsAt(state), NOTICE_TEXTS.wentBack(clock(state.at), state.says));

/** Puts a copy of another slot's work on the bench, as one step of undo; the other slot stays as it is. */
export async function openCopyOf(other: OtherWork): Promise<void> {
  const read = async (): Promise<Documents> => {
    const slot = (await readSlots()).find(({ id }) => id === other.id);
    if (slot === undefined) throw new Error(REFUSAL_TEXTS.workGone);
    return documentsOf(slot);
  };
  await putOn(read, NOTICE_TEXTS.openedCopy(other.name, clock(other.at)));
  habitsStore.setState({ offer: null });
}

async function putOn(read: () => Promise<Documents>, notice: string): Promise<void> {
  try {
    const [editor, found] = await Promise.all([loadEditor(), read()]);
    const pattern = editor.checkPattern(found.pattern);
    const setup = editor.checkSetup(found.setup);
    if (!pattern.ok) throw new Error(REFUSAL_TEXTS.patternUnread(pattern.error.expected));
    if (!setup.ok) throw new Error(REFUSAL_TEXTS.setupUnread(setup.error.expected));
    documentStore.setState({ ...found, pattern: pattern.value, setup: setup.value });
    resultStore.setState({ notice });
  } catch (error) {
    resultStore.setState({
      notice: REFUSAL_TEXTS.nothingChanged(error instanceof Error ? error.message : String(error)),
    });
  }
}
