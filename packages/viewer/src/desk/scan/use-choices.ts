import { useCallback } from 'react';
import { type DeskHistory, useHistory } from '../use-history.ts';
import { type Choices, NO_CHOICES } from './scan-choices.ts';

export interface ChoicesHeld {
  readonly history: DeskHistory<Choices>;
  readonly choices: Choices;
  /** Changes of the same kind in a row are one step. */
  readonly change: (change: Partial<Choices> | ((now: Choices) => Partial<Choices>), kind?: string | null) => void;
  /** The same choice, told more exactly: no step of undo. Null leaves it. */
  readonly correct: (made: (now: Choices) => Partial<Choices> | null) => void;
}

/** The choices on the desk with their own undo. */
export function useChoices(): ChoicesHeld {
  const history = useHistory<Choices>(NO_CHOICES);
  const { change: take, amend } = history;
  const change = useCallback<ChoicesHeld['change']>(
    (made, kind = null) => take((now) => ({ ...now, ...(typeof made === 'function' ? made(now) : made) }), kind),
    [take],
  );
  const correct = useCallback<ChoicesHeld['correct']>(
    (made) => amend((now) => ({ ...now, ...(made(now) ?? {}) })),
    [amend],
  );
  return { history, choices: history.now, change, correct };
}
