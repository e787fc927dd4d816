import { get, set } from 'idb-keyval';
import type { Documents } from './documents.ts';
import { documentStore, resultStore, viewStore } from './stores.ts';
import type { ViewState } from './view-state.ts';

/** Where the bench of this browser keeps its documents. */
const PLACE = 'barwright/bench/1';
const PAUSE_MS = 400;

export interface Kept {
  readonly documents: Documents;
  readonly view: Partial<ViewState>;
}

/** What was on the bench last time; null the first time, or where the browser keeps nothing. */
export async function readKept(): Promise<Kept | null> {
  try {
    const kept = await get<Kept>(PLACE);
    return kept?.documents === undefined ? null : kept;
  } catch {
    resultStore.setState({ saved: 'unavailable' });
    return null;
  }
}

/** Puts what could not be read where nothing overwrites it. */
export async function keepAside(kept: unknown): Promise<void> {
  await set(`${PLACE}/unread`, kept).catch(() => resultStore.setState({ saved: 'unavailable' }));
}

/** Keeps documents and view as they change: a moment after the last change, and at once when the page goes away. */
export function startAutosave(): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let pending = false;
  let writes = 0;

  const write = async (): Promise<void> => {
    clearTimeout(timer);
    if (!pending) return;
    pending = false;
    const mine = ++writes;
    const kept: Kept = { documents: documentStore.getState(), view: lasting(viewStore.getState()) };
    try {
      await set(PLACE, kept);
      if (mine === writes && !pending) resultStore.setState({ saved: 'saved' });
    } catch {
      resultStore.setState({ saved: 'unavailable' });
    }
  };
  const later = (): void => {
    pending = true;
    if (resultStore.getState().saved === 'saved') resultStore.setState({ saved: 'saving' });
    clearTimeout(timer);
    timer = setTimeout(() => void write(), PAUSE_MS);
  };
  const onHide = (): void => {
    if (document.visibilityState === 'hidden') void write();
  };
  const onLeave = (): void => void write();

  const stops = [documentStore.subscribe(later), viewStore.subscribe(later)];
  document.addEventListener('visibilitychange', onHide);
  window.addEventListener('pagehide', onLeave);
  return () => {
    for (const stop of stops) stop();
    document.removeEventListener('visibilitychange', onHide);
    window.removeEventListener('pagehide', onLeave);
    void write();
  };
}

/** Open sheets and a chosen finding don't outlive the page. */
function lasting({
  selectedFinding,
  cutOpen,
  lessonSheet,
  cardOpen,
  cautionsOpen,
  fromAsked,
  ...rest
}: ViewState): Partial<ViewState> {
  return rest;
}
