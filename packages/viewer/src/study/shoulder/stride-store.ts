import { type InputErrorDetails, type StrideResult, summariseStride } from '@barwright/geometry';
import { createStore, useStore } from 'zustand';
import { SHOULDER_TEXTS } from '../../look/texts/shoulder.ts';
import { STUDY_RUN_TEXTS } from '../../look/texts/study-run.ts';
import { documentStore } from '../../state/stores.ts';
import { Interrupted } from '../../worker/worker-line.ts';
import { studyLine } from '../study-line.ts';
import type { OnBench } from './bench-of.ts';
import { BESIDES, type Beside } from './beside.ts';
import { onBench } from './on-bench.ts';
import type { StrideBegun, StrideFrame, StrideRun } from './shoulder-service.ts';

/** A stride that was run to its end. */
export interface DoneStride {
  readonly begun: StrideBegun;
  readonly frames: readonly StrideFrame[];
  readonly result: StrideResult;
  /** A first look: fewer phases on a coarser grid. */
  readonly isCoarse: boolean;
}

export interface StrideState {
  readonly shown: DoneStride | null;
  /** `shown` belongs to older documents. */
  readonly stale: boolean;
  readonly running: { readonly isCoarse: boolean; readonly done: number; readonly of: number } | null;
  /** Somebody stopped it before its end. */
  readonly stopped: boolean;
  readonly error: InputErrorDetails | null;
  /** Index of the phase on show, and whether it goes on by itself. */
  readonly index: number;
  readonly playing: boolean;
  /** What is to be set beside it, and what has come of it for the documents as they are. */
  readonly asked: Readonly<Record<Beside, boolean>>;
  readonly beside: Readonly<Record<Beside, StrideResult | null>>;
}

const NONE_ASKED = Object.freeze({ crept: false, bars: false, warmth: false });
const NONE_THERE = Object.freeze({ crept: null, bars: null, warmth: null });

const START: StrideState = Object.freeze({
  shown: null,
  stale: false,
  running: null,
  stopped: false,
  error: null,
  index: 0,
  playing: false,
  asked: NONE_ASKED,
  beside: NONE_THERE,
});

export const strideStore = createStore<StrideState>()(() => START);
export const useStride = <T>(selector: (state: StrideState) => T): T => useStore(strideStore, selector);

const PHASES = 36;
const COARSE: StrideRun = { phases: 12, samples: 2500, beside: null, isDrawn: true };
const FULL: StrideRun = { phases: PHASES, samples: null, beside: null, isDrawn: true };
const besideRun = (beside: Beside): StrideRun => ({ phases: PHASES, samples: null, beside, isDrawn: false });

const set = (change: Partial<StrideState>): void => strideStore.setState(change);
const get = strideStore.getState;

/** Counts up with every change and with Cancel: work for an older number is given up. */
let wanted = 0;
/** What was last brought to an end, done or refused. */
let strodeFor = 0;
const besideFor: Record<Beside, number> = { crept: 0, bars: 0, warmth: 0 };
let isOpen = false;
let isWorking = false;

/** Follows the bench from now on; returns what stops it. */
export function followBench(): () => void {
  isOpen = true;
  set({ ...START });
  runAgain();
  const stop = documentStore.subscribe((now, before) => {
    if (now.pattern !== before.pattern || now.back !== before.back || now.setup !== before.setup) runAgain();
  });
  return () => {
    stop();
    isOpen = false;
    wanted++;
    set({ ...START });
  };
}

export function runAgain(): void {
  wanted++;
  set({ stale: get().shown !== null, beside: NONE_THERE, stopped: false });
  void keepUp();
}

export function cancelStride(): void {
  wanted++;
  set({ running: null, stopped: true });
}

export function askBeside(beside: Beside, isAsked: boolean): void {
  set({ asked: { ...get().asked, [beside]: isAsked } });
  void keepUp();
}

/** One run at a time; changes that come meanwhile replace each other. */
async function keepUp(): Promise<void> {
  if (isWorking) return;
  isWorking = true;
  for (let work = nextWork(); work !== null; work = nextWork()) {
    const version = wanted;
    try {
      await work(version);
    } catch (error) {
      // The worker was stopped for another piece of work: this one is still wanted.
      if (error instanceof Interrupted) continue;
      if (version === wanted) set({ running: null, stopped: true, error: faultOf(error) });
    }
  }
  isWorking = false;
}

function nextWork(): ((version: number) => Promise<void>) | null {
  const { stopped, asked, error } = get();
  if (!isOpen || stopped) return null;
  if (strodeFor !== wanted) return runBoth;
  if (error !== null) return null;
  const next = BESIDES.find((beside) => asked[beside] && besideFor[beside] !== wanted);
  return next === undefined ? null : (version) => runBeside(next, version);
}

async function runBoth(version: number): Promise<void> {
  const on = onBench();
  for (const run of [COARSE, FULL]) {
    const isCoarse = run === COARSE;
    const done = await runOnce(on, run, version, (count) =>
      set({ running: { isCoarse, done: count, of: run.phases } }),
    );
    if (version !== wanted) return;
    if (done === null) break;
    const { shown, index } = get();
    const phase = shown === null ? 0 : index / shown.frames.length;
    set({
      shown: { ...done, isCoarse },
      stale: false,
      error: null,
      index: Math.round(phase * run.phases) % run.phases,
    });
  }
  strodeFor = version;
  set({ running: null });
}

async function runBeside(beside: Beside, version: number): Promise<void> {
  const done = await runOnce(onBench(), besideRun(beside), version, () => undefined);
  if (version !== wanted) return;
  besideFor[beside] = version;
  set({ beside: { ...get().beside, [beside]: done?.result ?? null } });
}

/** null: refused, or no longer wanted. */
async function runOnce(
  on: OnBench,
  run: StrideRun,
  version: number,
  told: (done: number) => void,
): Promise<Omit<DoneStride, 'isCoarse'> | null> {
  told(0);
  const begun = await studyLine().ask((service) => service.strideBegin(on, run));
  if (version !== wanted) return null;
  if (!begun.ok) {
    set({ error: begun.error, stale: get().shown !== null });
    return null;
  }
  const frames: StrideFrame[] = [];
  while (frames.length < run.phases) {
    const next = await studyLine().ask((service) => service.strideNext(begun.value.id));
    if (version !== wanted) return null;
    if (!next.ok || next.value === null) throw new Interrupted();
    frames.push(next.value);
    told(frames.length);
  }
  const result = summariseStride(
    begun.value.stride,
    frames.map(({ phase }) => phase),
  );
  return { begun: begun.value, frames, result };
}

/** A fault of ours, said as such. */
function faultOf(error: unknown): InputErrorDetails {
  return {
    code: 'unsupported',
    got: String(error instanceof Error ? error.message : error).slice(0, 200),
    expected: SHOULDER_TEXTS.running.finished,
    remedy: STUDY_RUN_TEXTS.fault,
  };
}

/** The back of a phase; on the way back it is that of the way out. */
export function backAt(frames: readonly StrideFrame[], index: number): NonNullable<StrideFrame['back']> | null {
  return frames[index]?.back ?? frames[frames.length - index]?.back ?? null;
}

export const goTo = (index: number): void => {
  const count = get().shown?.frames.length ?? 0;
  if (count > 0) set({ index: ((index % count) + count) % count });
};

export const stepBy = (by: number): void => {
  set({ playing: false });
  goTo(get().index + by);
};

export const play = (playing: boolean): void => set({ playing });
