import { get, set } from 'idb-keyval';
import { createStore, useStore } from 'zustand';
import { COMPARE_TEXTS } from '../../look/texts/compare.ts';
import type { Documents } from '../../state/documents.ts';
import { documentStore, resultStore } from '../../state/stores.ts';

const T = COMPARE_TEXTS.compare;

/** What a result is worked out from: nothing that follows from it is kept. */
export type ComparedDocuments = Pick<Documents, 'pattern' | 'back' | 'setup'>;

export interface KeptResult {
  readonly id: string;
  readonly name: string;
  readonly documents: ComparedDocuments;
}

export interface KeptState {
  readonly kept: readonly KeptResult[];
  /** Ids in the order they are drawn, BENCH for what lies on the bench. */
  readonly shown: readonly string[];
}

/** What lies on the bench, as it stands. */
export const BENCH = 'bench';
/** So many drawings fit one below the other on one ruler. */
export const MOST_SHOWN = 3;
/** A scan may be kept with each. */
export const MOST_KEPT = 8;
const PLACE = 'barwright/kept-results/1';

export const KEPT_START: KeptState = Object.freeze({ kept: [], shown: [BENCH] });

export const keptStore = createStore<KeptState>()(() => KEPT_START);
export const useKept = <T>(selector: (state: KeptState) => T): T => useStore(keptStore, selector);

/** `Post on Dumpling`, with a number where that is taken. */
export function freeName({ pattern, back }: ComparedDocuments, kept: readonly KeptResult[]): string {
  const plain = T.resultName(pattern.name, back.name);
  const isTaken = (name: string): boolean => kept.some((one) => one.name === name);
  for (let i = 1; ; i++) {
    const name = i === 1 ? plain : T.sameName(plain, i);
    if (!isTaken(name)) return name;
  }
}

/** Adds documents under a free name, shown where there is room. null where no more can be kept. */
export function withKept(state: KeptState, documents: ComparedDocuments): { state: KeptState; name: string } | null {
  if (state.kept.length >= MOST_KEPT) return null;
  const name = freeName(documents, state.kept);
  const id = `kept-${1 + Math.max(0, ...state.kept.map((one) => Number(one.id.slice(5))))}`;
  const shown = state.shown.length < MOST_SHOWN ? [...state.shown, id] : state.shown;
  return { name, state: { kept: [...state.kept, { id, name, documents }], shown } };
}

export function withoutKept(state: KeptState, id: string): KeptState {
  return { kept: state.kept.filter((one) => one.id !== id), shown: state.shown.filter((one) => one !== id) };
}

/** Shown or not; no more than MOST_SHOWN. */
export function withShown(state: KeptState, id: string, isShown: boolean): KeptState {
  const others = state.shown.filter((one) => one !== id);
  if (!isShown) return { ...state, shown: others };
  return others.length >= MOST_SHOWN ? state : { ...state, shown: [...others, id] };
}

/** What was kept, as far as it has the shape of it: documents themselves are read again before they are used. */
export function readKeptState(raw: unknown): KeptState {
  const { kept, shown } = (raw ?? {}) as Partial<KeptState>;
  const known = (Array.isArray(kept) ? (kept as KeptResult[]) : []).filter(
    (one) =>
      /^kept-\d+$/.test(one?.id ?? '') &&
      typeof one.name === 'string' &&
      one.documents?.pattern !== undefined &&
      one.documents.setup !== undefined &&
      one.documents.back !== undefined,
  );
  const ids = [BENCH, ...known.map(({ id }) => id)];
  const wanted = Array.isArray(shown) ? shown.filter((id) => ids.includes(id)) : [BENCH];
  return { kept: known.slice(0, MOST_KEPT), shown: [...new Set(wanted)].slice(0, MOST_SHOWN) };
}

let opened: Promise<void> | null = null;

/** Brings back what was kept in this browser, once; every change after that is kept. */
export function openKept(): Promise<void> {
  opened ??= open();
  return opened;
}

async function open(): Promise<void> {
  const before = keptStore.getState();
  try {
    // Links and tests that ask for a fresh bench get one here too.
    const isFresh = new URLSearchParams(globalThis.location?.search ?? '').has('fresh');
    const raw = isFresh ? undefined : await get<unknown>(PLACE);
    if (raw !== undefined && keptStore.getState() === before) keptStore.setState(readKeptState(raw));
  } catch {
    resultStore.setState({ saved: 'unavailable' });
  }
  keptStore.subscribe((state) => void save(state));
}

async function save(state: KeptState): Promise<void> {
  await set(PLACE, state).catch(() => resultStore.setState({ saved: 'unavailable' }));
}

/** Keeps the documents on the bench. Says under which name, or why not. */
export async function keepBench(): Promise<string> {
  await openKept();
  const { pattern, back, setup } = documentStore.getState();
  const next = withKept(keptStore.getState(), { pattern, back, setup });
  if (next === null) return T.keptFull(MOST_KEPT);
  keptStore.setState(next.state);
  return T.keptAs(next.name);
}

export const renameKept = (id: string, name: string): void =>
  keptStore.setState(({ kept }) => ({ kept: kept.map((one) => (one.id === id ? { ...one, name } : one)) }));

export const removeKept = (id: string): void => keptStore.setState((state) => withoutKept(state, id));
export const showKept = (id: string, isShown: boolean): void =>
  keptStore.setState((state) => withShown(state, id, isShown));
