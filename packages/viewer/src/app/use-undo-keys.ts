import { useEffect } from 'react';
import { redo, undo } from '../state/index.ts';

/** Undo and redo by their usual keys, except inside a field, which has its own. */
export function useUndoKeys(): void {
  useEffect(() => {
    const pressed = (event: KeyboardEvent): void => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
      const target = event.target as HTMLElement | null;
      if (target?.closest('input:not([type="range"], [type="checkbox"]), textarea') !== null && target !== null) return;
      const key = event.key.toLowerCase();
      if (key !== 'z' && key !== 'y') return;
      event.preventDefault();
      if (key === 'y' || event.shiftKey) redo();
      else undo();
    };
    window.addEventListener('keydown', pressed);
    return () => window.removeEventListener('keydown', pressed);
  }, []);
}
