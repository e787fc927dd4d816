import { useCallback, useEffect, useState } from 'react';
import {
  type ChoiceHistory,
  type Choices,
  choose,
  correctChoice,
  redoChoice,
  startChoices,
  undoChoice,
} from './scan-choices.ts';

export interface ChoicesHeld {
  readonly history: ChoiceHistory;
  readonly choices: Choices;
  /** Changes of the same kind in a row are one step. */
  readonly change: (change: Partial<Choices> | ((now: Choices) => Partial<Choices>), kind?: string | null) => void;
  /** The same choice, told more exactly: no step of undo. Null leaves it. */
  readonly correct: (made: (now: Choices) => Partial<Choices> | null) => void;
  readonly undo: () => void;
  readonly redo: () => void;
}

/** The choices on the desk with their own undo; its keys do not reach the bench that lies underneath. */
export function useChoices(): ChoicesHeld {
  const [history, setHistory] = useState(startChoices);
  const change = useCallback<ChoicesHeld['change']>(
    (made, kind = null) =>
      setHistory((before) => choose(before, typeof made === 'function' ? made(before.now) : made, kind)),
    [],
  );
  const correct = useCallback<ChoicesHeld['correct']>(
    (made) => setHistory((before) => correctChoice(before, made(before.now) ?? {})),
    [],
  );
  const undo = useCallback(() => setHistory(undoChoice), []);
  const redo = useCallback(() => setHistory(redoChoice), []);
  useEffect(() => {
    const pressed = (event: KeyboardEvent): void => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
      const key = event.key.toLowerCase();
      if (key !== 'z' && key !== 'y') return;
      event.stopImmediatePropagation();
      const target = event.target instanceof Element ? event.target : null;
      // A field has an undo of its own.
      if (target?.closest('input:not([type="checkbox"]), textarea, select') != null) return;
      event.preventDefault();
      if (key === 'y' || event.shiftKey) redo();
      else undo();
    };
    window.addEventListener('keydown', pressed, true);
    return () => window.removeEventListener('keydown', pressed, true);
  }, [undo, redo]);
  return { history, choices: history.now, change, correct, undo, redo };
}
