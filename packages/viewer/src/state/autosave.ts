import { set } from 'idb-keyval';
import { claimSlot, workOf } from '../habits/claim.ts';
import { habitsStore, type OtherWork } from '../habits/habits-store.ts';
import { addStep } from '../habits/history.ts';
import { stateKey, writeSlot } from '../habits/slots.ts';
import { whatChanged } from '../habits/what-changed.ts';
import { HABIT_TEXTS } from '../look/texts/habits.ts';
import type { Documents } from './documents.ts';
import { documentStore, resultStore, viewStore } from './stores.ts';
import type { ViewState } from './view-state.ts';

/** Where what could not be read is put aside. */
const ASIDE = 'barwright/unread';
/** A change is written this long after it, and others with it that come meanwhile: a crash takes no more than this. */
const PAUSE_MS = 150;

export interface Kept {
  readonly documents: Documents;
  readonly view: Partial<ViewState>;
}

let ownId: string | null = null;

/** What this tab goes on with; null the first time, or where the browser keeps nothing. `isFresh`: a slot of its own, empty. */
export async function readKept(isFresh: boolean): Promise<Partial<Kept> | null> {
  try {
    const { id, documents, view } = await claimSlot(isFresh);
    ownId = id;
    return documents === null ? { view } : { documents, view };
  } catch {
    resultStore.setState({ saved: 'unavailable' });
    return null;
  }
}

/** Puts what could not be read where nothing overwrites it. */
export async function keepAside(kept: unknown): Promise<void> {
  await set(ASIDE, kept).catch(() => resultStore.setState({ saved: 'unavailable' }));
}

/** Keeps documents and view as they change, with the states before; at once when the page goes away. */
export function startAutosave(): () => void {
  const id = ownId ?? crypto.randomUUID();
  const told = listenToOthers(id);
  let timer: ReturnType<typeof setTimeout> | undefined;
  let writing: Promise<void> = Promise.resolve();
  /** Documents as last written, and as they were before the newest state began. */
  let written: Documents | null = null;
  let base = documentStore.getState();
  let topic: string | null = null;

  const write = async (): Promise<void> => {
    const documents = documentStore.getState();
    const before = habitsStore.getState().history;
    const at = Date.now();
    const change = whatChanged(written ?? documents, documents, resultStore.getState().pattern?.fields ?? []);
    let step: ReturnType<typeof addStep> = { list: before, dropped: [] };
    if (before.length === 0)
      step = addStep(before, { key: stateKey(id, at), at, says: HABIT_TEXTS.changed.asOpened }, change, null);
    else if (change.topic !== '') {
      if (topic !== change.topic) base = written ?? documents;
      const { says } = whatChanged(base, documents, resultStore.getState().pattern?.fields ?? []);
      step = addStep(before, { key: stateKey(id, at), at, says: says || HABIT_TEXTS.changed.asBefore }, change, topic);
      topic = change.topic;
    }
    const slot = { id, at, documents, view: lasting(viewStore.getState()), history: step.list };
    try {
      const kept = await writeSlot(slot, before, step.dropped);
      written = documents;
      habitsStore.setState({ savedAt: at, history: kept.history });
      if (timer === undefined) resultStore.setState({ saved: 'saved' });
      told.tell(workOf(slot));
    } catch {
      resultStore.setState({ saved: 'unavailable' });
    }
  };
  const writeNow = (): void => {
    clearTimeout(timer);
    timer = undefined;
    writing = writing.then(write);
  };
  const later = (): void => {
    if (resultStore.getState().saved === 'saved') resultStore.setState({ saved: 'saving' });
    timer ??= setTimeout(writeNow, PAUSE_MS);
  };
  const onLeave = (): void => {
    if (timer !== undefined) writeNow();
  };
  const onHide = (): void => {
    if (document.visibilityState === 'hidden') onLeave();
  };

  const stops = [documentStore.subscribe(later), viewStore.subscribe(later), told.stop];
  document.addEventListener('visibilitychange', onHide);
  window.addEventListener('pagehide', onLeave);
  later();
  return () => {
    document.removeEventListener('visibilitychange', onHide);
    window.removeEventListener('pagehide', onLeave);
    onLeave();
    for (const stop of stops) stop();
  };
}

/** Hears what other tabs have written, and tells them. */
function listenToOthers(own: string): { tell: (work: OtherWork) => void; stop: () => void } {
  if (typeof BroadcastChannel === 'undefined') return { tell: () => undefined, stop: () => undefined };
  const channel = new BroadcastChannel('barwright/slots');
  let isOpen = true;
  channel.onmessage = ({ data }: MessageEvent<OtherWork>) => {
    if (data.id === own) return;
    habitsStore.setState(({ others, offer }) => ({
      others: [data, ...others.filter(({ id }) => id !== data.id)],
      offer: offer?.id === data.id ? data : offer,
    }));
  };
  return {
    tell: (work) => {
      if (isOpen) channel.postMessage(work);
    },
    stop: () => {
      isOpen = false;
      channel.close();
    },
  };
}

/** Open sheets and a chosen finding don't outlive the page. */
function lasting({
  selectedFinding,
  cutOpen,
  cardOpen,
  cautionsOpen,
  fromAsked,
  ...rest
}: ViewState): Partial<ViewState> {
  return rest;
}
