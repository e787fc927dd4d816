import {
  InputError,
  type InputErrorDetails,
  parseJson,
  RIDING_SETS,
  type Riding,
  type RidingCase,
  readRiding,
  ridingCaseSchema,
} from '@barwright/geometry';
import { createStore, useStore } from 'zustand';
import { RIDING_TEXTS } from '../../look/texts/riding.ts';
import { STUDY_RUN_TEXTS } from '../../look/texts/study-run.ts';
import { documentStore } from '../../state/stores.ts';
import { Interrupted } from '../../worker/worker-line.ts';
import { onBench } from '../shoulder/on-bench.ts';
import { studyLine } from '../study-line.ts';
import type { RiddenView } from './riding-service.ts';

export interface RidingRow {
  readonly riding: RidingCase;
  /** null while it has not been run. */
  readonly ridden: RiddenView | null;
  /** `ridden` belongs to older values. */
  readonly stale: boolean;
  readonly error: InputErrorDetails | null;
}

export interface RidingState {
  readonly name: string;
  readonly notes: string | undefined;
  /** The standing case first, whatever the set. */
  readonly rows: readonly RidingRow[];
  /** As the set was chosen or opened: what Put back gives back. */
  readonly source: Riding;
  readonly chosen: number;
  readonly isRunning: boolean;
  readonly stopped: boolean;
  readonly error: InputErrorDetails | null;
}

/** What every other row is compared with: the horse standing, the setup's load as it is. */
export const STANDING: RidingCase = ridingCaseSchema.parse(RIDING_TEXTS.standing);

/** The set's own standing case would be the first row twice. */
const ridden = ({ cases }: Riding): RidingCase[] =>
  cases.filter((riding) => JSON.stringify({ ...riding, source: STANDING.source }) !== JSON.stringify(STANDING));

const freshRow = (riding: RidingCase): RidingRow => ({ riding, ridden: null, stale: false, error: null });

function stateOf(source: Riding): RidingState {
  return {
    name: source.name,
    notes: source.notes,
    rows: [STANDING, ...ridden(source)].map(freshRow),
    source,
    chosen: 0,
    isRunning: false,
    stopped: false,
    error: null,
  };
}

export const ridingStore = createStore<RidingState>()(() => stateOf(RIDING_SETS[1]!));
export const useRiding = <T>(selector: (state: RidingState) => T): T => useStore(ridingStore, selector);

const set = (change: Partial<RidingState>): void => ridingStore.setState(change);
const get = ridingStore.getState;

let isOpen = false;
let isWorking = false;

/** Follows the bench from now on; returns what stops it. The set and what was changed in it stay for the next time. */
export function followRiding(): () => void {
  isOpen = true;
  outdate();
  const stop = documentStore.subscribe((now, before) => {
    if (now.pattern !== before.pattern || now.back !== before.back || now.setup !== before.setup) outdate();
  });
  return () => {
    stop();
    isOpen = false;
  };
}

function outdate(): void {
  set({ rows: get().rows.map((row) => ({ ...row, stale: true, error: null })), stopped: false });
  void keepUp();
}

export function chooseSet(source: Riding): void {
  ridingStore.setState(stateOf(source));
  void keepUp();
}

/** Opens the text of a *.riding.json; what it can't read is said and nothing changes. */
export const openRiding = (text: string, fileName: string): void => taking(() => parseJson(text, fileName), fileName);

/** The same of a document that is parsed already. */
export const takeRiding = (json: unknown, fileName: string): void => taking(() => json, fileName);

function taking(json: () => unknown, fileName: string): void {
  try {
    chooseSet(readRiding(json(), fileName));
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    set({ error: error.details });
  }
}

export const choose = (chosen: number): void => set({ chosen });
export const stopRiding = (): void => set({ stopped: true });
export function goOnRiding(): void {
  set({ stopped: false });
  void keepUp();
}

/** Changes values of one case; null: they make no case, and what is wrong. */
export function editCase(at: number, change: Readonly<Record<string, unknown>>): InputErrorDetails | null {
  const { rows } = get();
  const before = rows[at]!.riding;
  let riding: RidingCase;
  try {
    const source = before.source.startsWith(EDITED) ? before.source : `${EDITED}${before.source}`.slice(0, 400);
    const read = readRiding({
      schema: 'barwright/riding/1',
      name: 'edited',
      cases: [{ ...before, source, ...change }],
    });
    riding = read.cases[0]!;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return error.details;
  }
  putRow(at, (row) => ({ ...row, riding, stale: true, error: null }));
  void keepUp();
  return null;
}

const EDITED = `${RIDING_TEXTS.edited} `;

/** The case as the set had it. */
export function putBack(at: number): void {
  const original = originalOf(at);
  if (original === undefined) return;
  putRow(at, (row) => ({ ...row, riding: original, stale: true, error: null }));
  void keepUp();
}

export const originalOf = (at: number): RidingCase | undefined => (at === 0 ? STANDING : ridden(get().source)[at - 1]);

/** The set as it stands, to be saved: without the standing row that is put before every set, unless nothing else is there. */
export function ridingToSave(): Riding {
  const { name, notes, rows } = get();
  const cases = rows.map(({ riding }) => riding);
  return readRiding({
    schema: 'barwright/riding/1',
    name,
    ...(notes === undefined ? {} : { notes }),
    cases: cases.length > 1 ? cases.slice(1) : cases,
  });
}

function putRow(at: number, change: (row: RidingRow) => RidingRow): void {
  set({ rows: get().rows.map((row, i) => (i === at ? change(row) : row)) });
}

/** Row by row, the first that is not of the values on screen. */
async function keepUp(): Promise<void> {
  if (isWorking) return;
  isWorking = true;
  set({ isRunning: true });
  for (let at = nextRow(); at >= 0; at = nextRow()) {
    try {
      await runRow(at);
    } catch (error) {
      // The worker was stopped for another piece of work: this one is still wanted.
      if (!(error instanceof Interrupted)) set({ stopped: true, error: faultOf(error) });
    }
  }
  isWorking = false;
  set({ isRunning: false });
}

const nextRow = (): number =>
  !isOpen || get().stopped
    ? -1
    : get().rows.findIndex(({ ridden, stale, error }) => error === null && (stale || ridden === null));

async function runRow(at: number): Promise<void> {
  const { riding } = get().rows[at]!;
  const on = onBench();
  const answer = await studyLine().ask((service) => service.rideOne(on, riding));
  const now = onBench();
  const isSame = now.pattern === on.pattern && now.setup === on.setup && now.back === on.back;
  if (!isSame || get().rows[at]?.riding !== riding) return;
  putRow(at, (row) =>
    answer.ok ? { ...row, ridden: answer.value, stale: false } : { ...row, error: answer.error, stale: true },
  );
}

/** A fault of ours, said as such. */
function faultOf(error: unknown): InputErrorDetails {
  return {
    code: 'unsupported',
    got: String(error instanceof Error ? error.message : error).slice(0, 200),
    expected: RIDING_TEXTS.finished,
    remedy: STUDY_RUN_TEXTS.fault,
  };
}
