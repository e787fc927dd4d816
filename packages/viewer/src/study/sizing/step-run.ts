import type { InputErrorDetails } from '@barwright/geometry';
import { createStore, type StoreApi } from 'zustand';
import type { Answered } from '../../worker/answering.ts';
import { Interrupted } from '../../worker/worker-line.ts';

/** A run that the studies' worker has begun. */
export interface Begun {
  readonly id: number;
  readonly total: number;
}

/** What one asking brought: how far it is, and what is new. null: the worker no longer has this run. */
export interface Step<Part> {
  readonly done: number;
  readonly isEnd: boolean;
  readonly parts: readonly Part[];
}

export interface RunState<Start extends Begun, Part> {
  /** What it was begun for; another key is another question. */
  readonly key: string | null;
  readonly state: 'idle' | 'working' | 'stopped' | 'done' | 'refused';
  readonly begun: Start | null;
  readonly done: number;
  readonly parts: readonly Part[];
  readonly refusal: InputErrorDetails | null;
}

export interface StepRun<Start extends Begun, Part> {
  readonly store: StoreApi<RunState<Start, Part>>;
  /** Begins anew where the key is another one; goes on with what was stopped where it is the same. */
  follow(key: string, begin: () => Promise<Answered<Start>>): void;
  /** Nothing more is asked; what is there stays. */
  stop(): void;
  goOn(): void;
}

/**
 * Asks the worker for one step after the other, so that rows come in as they are done, newer inputs take the place of
 * older ones at any step, and stopping throws nothing away: the worker keeps where it was.
 */
export function createStepRun<Start extends Begun, Part>(
  next: (id: number) => Promise<Answered<Step<Part> | null>>,
): StepRun<Start, Part> {
  const START: RunState<Start, Part> = { key: null, state: 'idle', begun: null, done: 0, parts: [], refusal: null };
  const store = createStore<RunState<Start, Part>>()(() => START);
  let wanted = 0;
  let again: (() => Promise<Answered<Start>>) | null = null;

  const refuse = (refusal: InputErrorDetails): void => store.setState({ state: 'refused', refusal });

  const work = async (begin: (() => Promise<Answered<Start>>) | null): Promise<void> => {
    const mine = ++wanted;
    try {
      if (begin !== null) {
        const begun = await begin();
        if (mine !== wanted) return;
        if (!begun.ok) return refuse(begun.error);
        store.setState({ begun: begun.value });
      }
      for (;;) {
        const step = await next(store.getState().begun!.id);
        if (mine !== wanted) return;
        if (!step.ok) return refuse(step.error);
        // Another run has taken its place in the worker: from the start.
        if (step.value === null) return start(store.getState().key!, again!);
        const { done, isEnd, parts } = step.value;
        store.setState((now) => ({
          done: isEnd ? (now.begun?.total ?? done) : done,
          parts: parts.length === 0 ? now.parts : [...now.parts, ...parts],
        }));
        if (isEnd) return store.setState({ state: 'done' });
      }
    } catch (error) {
      if (mine !== wanted) return;
      if (error instanceof Interrupted) store.setState({ state: 'stopped', begun: null });
      else refuse(faultOf(error));
    }
  };

  const start = (key: string, begin: () => Promise<Answered<Start>>): void => {
    again = begin;
    store.setState({ ...START, key, state: 'working' });
    void work(begin);
  };

  const goOn = (): void => {
    const { state, begun, key } = store.getState();
    if (state !== 'stopped' || again === null || key === null) return;
    if (begun === null) start(key, again);
    else {
      store.setState({ state: 'working' });
      void work(null);
    }
  };

  return {
    store,
    follow(key, begin) {
      const now = store.getState();
      if (now.key !== key) start(key, begin);
    },
    stop() {
      if (store.getState().state !== 'working') return;
      wanted++;
      store.setState({ state: 'stopped' });
    },
    goOn,
  };
}

const faultOf = (error: unknown): InputErrorDetails => ({
  code: 'unsupported',
  got: String(error instanceof Error ? error.message : error).slice(0, 200),
  expected: 'the study to be finished',
  remedy:
    'This is a fault in Barwright, not in your input. Your documents are safe; close the study and open it again.',
});
