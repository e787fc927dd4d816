import type { InputErrorDetails } from '@barwright/geometry';
import { useEffect, useState } from 'react';
import type { Answered } from '../../worker/answering.ts';
import { Interrupted } from '../../worker/worker-line.ts';

export interface Asked<T> {
  /** The latest answer; of an earlier question while `isOlder`. */
  readonly value: T | null;
  readonly refusal: InputErrorDetails | null;
  readonly isOlder: boolean;
}

/** Asks a worker whenever `question` changes (by identity); null asks nothing. Answers to earlier questions are dropped. */
export function useAnswer<Q, T>(question: Q | null, ask: (question: Q) => Promise<Answered<T>>): Asked<T> {
  const [held, setHeld] = useState<{ of: Q | null; value: T | null; refusal: InputErrorDetails | null }>({
    of: null,
    value: null,
    refusal: null,
  });
  const [fault, setFault] = useState<unknown>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the question says all; how it is asked does not change
  useEffect(() => {
    if (question === null) return;
    let isGone = false;
    ask(question)
      .then((answer) => {
        if (isGone) return;
        if (answer.ok) setHeld({ of: question, value: answer.value, refusal: null });
        else setHeld((before) => ({ of: question, value: before.value, refusal: answer.error }));
      })
      .catch((error: unknown) => {
        if (!isGone && !(error instanceof Interrupted)) setFault(error);
      });
    return () => {
      isGone = true;
    };
  }, [question]);
  if (fault !== null) throw fault;
  return { value: held.value, refusal: held.refusal, isOlder: held.of !== question || held.refusal !== null };
}
