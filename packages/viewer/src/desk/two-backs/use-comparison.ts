import type { InputErrorDetails } from '@barwright/geometry';
import { useEffect, useState } from 'react';
import { Interrupted } from '../../worker/worker-line.ts';
import { deskLine } from '../desk-line.ts';
import type { ComparisonWish, ListedBack, TwoBacksView } from './two-backs-service.ts';

interface Comparison {
  readonly view: TwoBacksView | null;
  readonly refusal: InputErrorDetails | null;
  readonly state: 'idle' | 'working' | 'stopped' | 'done';
}

/** Compares in the desk's worker; what is shown meanwhile is the comparison before, marked as such by `state`. */
export function useComparison(
  before: ListedBack | null,
  after: ListedBack | null,
  wish: ComparisonWish,
): Comparison & { stop(): void; again(): void } {
  const [shown, setShown] = useState<Comparison>({ view: null, refusal: null, state: 'idle' });
  const [asked, setAsked] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `asked` runs it again after it was stopped
  useEffect(() => {
    if (before === null || after === null || before.id === after.id) {
      setShown({ view: null, refusal: null, state: 'idle' });
      return;
    }
    let isGone = false;
    setShown((now) => ({ ...now, state: 'working' }));
    deskLine()
      .ask((service) => service.compareTwoBacks(before, after, wish))
      .then((answer) => {
        if (isGone) return;
        setShown(
          answer.ok
            ? { view: answer.value, refusal: null, state: 'done' }
            : { view: null, refusal: answer.error, state: 'done' },
        );
      })
      .catch((error: unknown) => {
        if (isGone) return;
        setShown((now) => ({ ...now, state: 'stopped' }));
        if (!(error instanceof Interrupted)) throw error;
      });
    return () => {
      isGone = true;
    };
  }, [before, after, wish, asked]);
  return { ...shown, stop: () => deskLine().restart(), again: () => setAsked((n) => n + 1) };
}
