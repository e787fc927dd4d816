import { useEffect } from 'react';
import { habitsStore } from './habits-store.ts';
import { shortcutFor } from './keys.ts';

/** Where one writes; such a field has keys and an undo of its own. */
const TYPING = 'input:not([type="range"], [type="checkbox"], [type="radio"]), textarea, [contenteditable]';
const FIELD = 'input, select';

/** Answers the shortcuts of the table. */
export function useKeys(): void {
  useEffect(() => {
    const pressed = (event: KeyboardEvent): void => {
      if (event.defaultPrevented) return;
      const target = event.target instanceof Element ? event.target : null;
      const where = target?.closest(TYPING) != null ? 'typing' : target?.closest(FIELD) != null ? 'field' : 'free';
      const shortcut = shortcutFor(event, where);
      if (shortcut === null) return;
      // A panel lies over the bench: only its own keys work.
      if (habitsStore.getState().panel !== null && !/^[?ks]$/.test(shortcut.keys[0]!)) return;
      event.preventDefault();
      shortcut.run();
    };
    window.addEventListener('keydown', pressed);
    return () => window.removeEventListener('keydown', pressed);
  }, []);
}
