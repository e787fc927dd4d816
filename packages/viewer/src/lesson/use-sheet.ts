import { type KeyboardEvent, type RefObject, useEffect, useRef } from 'react';
import { setView } from '../state/index.ts';

const closeSheet = (): void => setView({ lessonSheet: null });

interface Sheet {
  readonly ref: RefObject<HTMLElement | null>;
  readonly tabIndex: -1;
  readonly onKeyDown: (event: KeyboardEvent) => void;
}

/** A sheet takes the keyboard when it opens, gives it back to where it came from, and Escape closes it. */
export function useSheet(): Sheet {
  const ref = useRef<HTMLElement>(null);
  useEffect(() => {
    const before = document.activeElement;
    ref.current?.focus({ preventScroll: true });
    return () => {
      if (before instanceof HTMLElement && before.isConnected) before.focus({ preventScroll: true });
    };
  }, []);
  return {
    ref,
    tabIndex: -1,
    onKeyDown: (event) => {
      if (event.key === 'Escape') closeSheet();
    },
  };
}
