import { HistoryButtons } from '../HistoryButtons.tsx';
import { photoDesk, useCanRedo, useCanUndo } from './photo-store.ts';

const undo = (): void => photoDesk.undo();
const redo = (): void => photoDesk.redo();

/** Undo of the photo desk. */
export function UndoRow() {
  return <HistoryButtons canUndo={useCanUndo()} canRedo={useCanRedo()} onUndo={undo} onRedo={redo} />;
}
