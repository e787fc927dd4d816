import { get, set } from 'idb-keyval';
import { draftPlace } from '../habits/slots.ts';
import { rememberedId } from '../habits/tab.ts';
import { type Draft, EMPTY_DRAFT } from './draft.ts';

/** A change is written this long after it, and others with it that come meanwhile. */
const PAUSE_MS = 250;

type Words = Omit<Draft, 'backs'>;

let timer: ReturnType<typeof setTimeout> | undefined;
let waiting: Draft | null = null;
let writtenBacks: Draft['backs'] = EMPTY_DRAFT.backs;

const placeOf = (part: 'words' | 'backs'): string => draftPlace(rememberedId() ?? 'tab', part);

/** Keeps the draft in this browser, for this tab; backs, which may carry scans, only when they changed. Tells how it went. */
export function keepDraft(draft: Draft, onDone: (isKept: boolean) => void): void {
  waiting = draft;
  timer ??= setTimeout(() => {
    writeNow().then(
      () => waiting === null && onDone(true),
      () => onDone(false),
    );
  }, PAUSE_MS);
}

async function writeNow(): Promise<void> {
  clearTimeout(timer);
  timer = undefined;
  if (waiting === null) return;
  const { backs, ...words } = waiting;
  waiting = null;
  if (backs !== writtenBacks) await set(placeOf('backs'), backs);
  writtenBacks = backs;
  await set(placeOf('words'), words satisfies Words);
}

/** What this tab was writing before it was reloaded or crashed; null: nothing that still reads. */
export async function readDraft(): Promise<Draft | null> {
  const [words, backs] = await Promise.all([
    get<Words>(placeOf('words')).catch(() => undefined),
    get<Draft['backs']>(placeOf('backs')).catch(() => undefined),
  ]);
  if (words === undefined || !Array.isArray(words.steps)) return null;
  writtenBacks = backs ?? EMPTY_DRAFT.backs;
  return { ...words, backs: writtenBacks };
}

if (typeof window !== 'undefined')
  window.addEventListener('pagehide', () => {
    if (timer !== undefined) void writeNow().catch(() => undefined);
  });
