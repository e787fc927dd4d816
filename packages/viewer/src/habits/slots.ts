import { delMany, getMany, keys, setMany } from 'idb-keyval';
import { REFUSAL_TEXTS } from '../look/texts/refusals.ts';
import type { Documents, OpenedBack } from '../state/documents.ts';
import type { ViewState } from '../state/view-state.ts';

/** A state that can be gone back to; its documents lie under `key`. */
export interface KeptState {
  readonly key: string;
  /** Milliseconds since 1970. */
  readonly at: number;
  readonly says: string;
  readonly bytes: readonly string[];
}

/** What one tab keeps: its documents as they stand, how they are looked at, and the states before, newest last. */
export interface Slot {
  readonly id: string;
  readonly at: number;
  readonly documents: Documents;
  readonly view: Partial<ViewState>;
  readonly history: readonly KeptState[];
  /** Scans that the documents name; they lie on their own, once for all states. */
  readonly bytes: readonly string[];
}

const SLOT = 'barwright/slot/';
const STATE = 'barwright/state/';
const BYTES = 'barwright/bytes/';
const DRAFT = 'barwright/draft/';
/** Slots of tabs that are gone, beside the open ones. */
const MOST_GONE = 6;

const keyOfBytes = new WeakMap<Uint8Array, string>();
const writtenBytes = new Set<string>();

interface Parted {
  readonly documents: unknown;
  readonly bytes: ReadonlyMap<string, Uint8Array>;
}

/** Documents with each scan's bytes put apart under a key, so that a hundred states of one scan hold it once. */
function part(documents: Documents): Parted {
  const bytes = new Map<string, Uint8Array>();
  const apart = (back: OpenedBack): unknown => {
    if (back.mesh === null) return back;
    const key = keyOfBytes.get(back.mesh.bytes) ?? BYTES + crypto.randomUUID();
    keyOfBytes.set(back.mesh.bytes, key);
    bytes.set(key, back.mesh.bytes);
    return { ...back, mesh: { fileName: back.mesh.fileName, key } };
  };
  const { pattern, back, setup, lesson } = documents;
  const backs = Object.entries(lesson?.backs ?? {}).map(([name, one]) => [name, apart(one)]);
  const parted = {
    pattern,
    setup,
    back: apart(back),
    lesson: lesson && { ...lesson, backs: Object.fromEntries(backs) },
  };
  return { documents: parted, bytes };
}

/** Documents with their scans in them again. Rejects where a scan is gone. */
async function join(parted: Documents, keysOfBytes: readonly string[]): Promise<Documents> {
  const all = await getMany<Uint8Array>([...keysOfBytes]);
  const found = new Map(keysOfBytes.map((key, i) => [key, all[i]]));
  const whole = (back: OpenedBack): OpenedBack => {
    const mesh = back.mesh as { fileName: string; key?: string; bytes?: Uint8Array } | null;
    if (mesh === null || mesh.key === undefined) return back;
    const bytes = found.get(mesh.key);
    if (bytes === undefined) throw new Error(REFUSAL_TEXTS.scanGone(mesh.fileName));
    keyOfBytes.set(bytes, mesh.key);
    writtenBytes.add(mesh.key);
    return { ...back, mesh: { fileName: mesh.fileName, bytes } };
  };
  const { lesson } = parted;
  const backs = Object.entries(lesson?.backs ?? {}).map(([name, one]) => [name, whole(one)]);
  return { ...parted, back: whole(parted.back), lesson: lesson && { ...lesson, backs: Object.fromEntries(backs) } };
}

export type Written = Omit<Slot, 'bytes' | 'history'> & { readonly history: readonly Omit<KeptState, 'bytes'>[] };

/**
 * Writes a slot, and the documents as the newest of its states, at one go: after a crash the slot is as before or as
 * after, never half. `dropped` are keys of states to forget.
 */
export async function writeSlot(
  slot: Written,
  before: readonly KeptState[],
  dropped: readonly string[],
): Promise<Slot> {
  const parted = part(slot.documents);
  const bytes = [...parted.bytes.keys()];
  const newest = slot.history.at(-1);
  const history = slot.history.map(
    (state): KeptState =>
      state === newest ? { ...state, bytes } : (before.find(({ key }) => key === state.key) ?? { ...state, bytes }),
  );
  const kept = { ...slot, documents: parted.documents as Documents, history, bytes };
  const fresh = [...parted.bytes].filter(([key]) => !writtenBytes.has(key));
  const states: [string, unknown][] = newest === undefined ? [] : [[newest.key, parted.documents]];
  await setMany([[SLOT + slot.id, kept], ...states, ...fresh]);
  for (const [key] of fresh) writtenBytes.add(key);
  if (dropped.length > 0) await delMany([...dropped]);
  return kept;
}

/** Where a tab keeps the lesson that it writes: its words, and the backs that it stands on. */
export const draftPlace = (id: string, part: 'words' | 'backs'): string => `${DRAFT}${id}/${part}`;

export const stateKey = (id: string, at: number): string => `${STATE}${id}/${at}`;

/** Every slot in this browser, newest first; their scans stay apart. */
export async function readSlots(): Promise<Slot[]> {
  const names = (await keys<string>()).filter((key) => typeof key === 'string' && key.startsWith(SLOT));
  const slots = (await getMany<Slot>(names)).filter((slot): slot is Slot => slot?.documents !== undefined);
  return slots.sort((a, b) => b.at - a.at);
}

export const documentsOf = (slot: Slot): Promise<Documents> => join(slot.documents, slot.bytes);

export async function documentsAt(state: KeptState): Promise<Documents> {
  const [parted] = await getMany<Documents>([state.key]);
  if (parted === undefined) throw new Error(REFUSAL_TEXTS.stateGone);
  return join(parted, state.bytes);
}

/** Forgets the oldest slots of tabs that are gone, and scans that nothing names any more. Only while no other tab works. */
export async function tidy(own: string): Promise<void> {
  const slots = await readSlots();
  const gone = slots.filter(({ id }) => id !== own).slice(MOST_GONE);
  const left = slots.filter((slot) => !gone.includes(slot));
  const used = new Set(left.flatMap((slot) => [...slot.bytes, ...slot.history.flatMap(({ bytes }) => bytes)]));
  const all = (await keys()).map(String);
  const kept = [own, ...left.map(({ id }) => id)].map((id) => `${DRAFT}${id}/`);
  const loose = all.filter(
    (key) =>
      (key.startsWith(BYTES) && !used.has(key)) ||
      (key.startsWith(DRAFT) && !kept.some((place) => key.startsWith(place))),
  );
  const old = gone.flatMap((slot) => [SLOT + slot.id, ...slot.history.map(({ key }) => key)]);
  await delMany([...old, ...loose]);
}
