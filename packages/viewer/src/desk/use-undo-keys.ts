import { useEffect } from 'react';

/** Fields with an undo of their own. */
const TEXT = 'input:not([type="range"], [type="checkbox"], [type="radio"]), textarea';

/** The usual keys, caught before they reach the bench, whose documents lie underneath untouched. */
export function useUndoKeys(onUndo: () => void, onRedo: () => void): void {
  useEffect(() => {
    const pressed = (event: KeyboardEvent): void => {
      const key = event.key.toLowerCase();
      if (!(event.ctrlKey || event.metaKey) || event.altKey || (key !== 'z' && key !== 'y')) return;
      event.stopImmediatePropagation();
      const target = event.target instanceof Element ? event.target : null;
      if (target?.closest(TEXT) != null) return;
      event.preventDefault();
      if (key === 'y' || event.shiftKey) onRedo();
      else onUndo();
    };
    window.addEventListener('keydown', pressed, { capture: true });
    return () => window.removeEventListener('keydown', pressed, { capture: true });
  }, [onUndo, onRedo]);
}
