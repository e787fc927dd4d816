import type { InputErrorDetails } from '@barwright/geometry';
import { createStore, type StoreApi } from 'zustand';
import { STUDY_RUN_TEXTS } from '../../look/texts/study-run.ts';
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
  /** What an earlier question brought, until the first part of this one is there: to be shown dimmed. */
  readonly older: { readonly begun: Start; readonly parts: readonly Part[] } | null;
}

export interface StepRun<Start extends Begun, Part> {
  readonly store: StoreApi<RunState<Start, Part>>;
  /** Begins anew where the key is another one; goes on with what was stopped where it is the same. */
  follow(key: string, begin: () => Promise<Answered<Start>>): void;
  /** Nothing more is asked once the answer on its way is in; what is there stays. */
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
  const START: RunState<Start, Part> = {
    key: null,
    state: 'idle',
    begun: null,
    done: 0,
    parts: [],
    refusal: null,
    older: null,
  };
  const store = createStore<RunState<Start, Part>>()(() => START);
  let wanted = 0;
  /** The run that waits for an answer, 0 for none. */
  let asking = 0;
  let again: (() => Promise<Answered<Start>>) | null = null;

  const refuse = (refusal: InputErrorDetails): void => store.setState({ state: 'refused', refusal, older: null });

  /** Ends when the run does, when another has taken its place, or after the answer that comes when it was stopped. */
  const work = async (begin: (() => Promise<Answered<Start>>) | null): Promise<void> => {
    const mine = ++wanted;
    asking = mine;
    try {
      if (begin !== null && !(await begunBy(begin, mine))) return;
      while (store.getState().state === 'working') {
        const step = await next(store.getState().begun!.id);
        if (mine !== wanted) return;
        if (!step.ok) return refuse(step.error);
        // Another run has taken its place in the worker: from the start.
        if (step.value === null) return start(store.getState().key!, again!);
        take(step.value);
      }
    } catch (error) {
      if (mine !== wanted) return;
      if (error instanceof Interrupted) store.setState({ state: 'stopped', begun: null });
      else refuse(faultOf(error));
    } finally {
      if (asking === mine) asking = 0;
    }
  };

  /** false: refused, or no longer wanted. */
  const begunBy = async (begin: () => Promise<Answered<Start>>, mine: number): Promise<boolean> => {
    if (store.getState().older !== null) await settled();
    if (mine !== wanted) return false;
    const begun = await begin();
    if (mine !== wanted) return false;
    if (begun.ok) store.setState({ begun: begun.value });
    else refuse(begun.error);
    return begun.ok;
  };

  const take = ({ done, isEnd, parts }: Step<Part>): void => {
    store.setState((now) => ({
      done: isEnd ? (now.begun?.total ?? done) : done,
      ...(parts.length === 0 ? {} : { parts: [...now.parts, ...parts], older: null }),
      ...(isEnd ? { state: 'done' } : {}),
    }));
  };

  const start = (key: string, begin: () => Promise<Answered<Start>>): void => {
    again = begin;
    const { begun, parts, older } = store.getState();
    store.setState({
      ...START,
      key,
      state: 'working',
      older: begun !== null && parts.length > 0 ? { begun, parts } : older,
    });
    void work(begin);
  };

  const goOn = (): void => {
    const { state, begun, key } = store.getState();
    if (state !== 'stopped' || again === null || key === null) return;
    store.setState({ state: 'working' });
    // Where it still waits for the answer that was on its way, that one goes on.
    if (asking === wanted) return;
    if (begun === null) start(key, again);
    else void work(null);
  };

  return {
    store,
    follow(key, begin) {
      const now = store.getState();
      if (now.key !== key || now.state === 'refused') start(key, begin);
    },
    stop() {
      if (store.getState().state === 'working') store.setState({ state: 'stopped' });
    },
    goOn,
  };
}

/** A value that is being dragged asks once, when the hand rests. */
const SETTLE_MS = 300;
const settled = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, SETTLE_MS));

/** What there is to show: the newest, or what an earlier question brought. */
export function shownOf<Start extends Begun, Part>({
  begun,
  parts,
  older,
}: RunState<Start, Part>): {
  readonly begun: Start | null;
  readonly parts: readonly Part[];
  readonly isOlder: boolean;
} {
  if (older === null) return { begun, parts, isOlder: false };
  return { ...older, isOlder: true };
}

const faultOf = (error: unknown): InputErrorDetails => ({
  code: 'unsupported',
  got: String(error instanceof Error ? error.message : error).slice(0, 200),
  expected: STUDY_RUN_TEXTS.finished,
  remedy: STUDY_RUN_TEXTS.fault,
});
