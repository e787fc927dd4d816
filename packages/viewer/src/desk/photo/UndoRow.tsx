import { useEffect } from 'react';
import { photoDesk, useCanRedo, useCanUndo } from './photo-store.ts';

/** Undo of the photo desk: its buttons, and the usual keys before the bench's own undo hears of them. */
export function UndoRow() {
  const [canUndo, canRedo] = [useCanUndo(), useCanRedo()];
  useEffect(() => {
    const pressed = (event: KeyboardEvent): void => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
      const key = event.key.toLowerCase();
      if (key !== 'z' && key !== 'y') return;
      const target = event.target as HTMLElement | null;
      event.stopImmediatePropagation();
      // A field has an undo of its own.
      if (target?.closest('input:not([type="checkbox"], [type="radio"]), textarea')) return;
      event.preventDefault();
      if (key === 'y' || event.shiftKey) photoDesk.redo();
      else photoDesk.undo();
    };
    window.addEventListener('keydown', pressed, { capture: true });
    return () => window.removeEventListener('keydown', pressed, { capture: true });
  }, []);
  return (
    <>
      <button type="button" disabled={!canUndo} onClick={() => photoDesk.undo()}>
        ↶ Undo here
      </button>
      <button type="button" disabled={!canRedo} onClick={() => photoDesk.redo()}>
        ↷ Redo here
      </button>
    </>
  );
}
