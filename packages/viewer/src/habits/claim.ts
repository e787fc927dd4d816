import { get } from 'idb-keyval';
import { NOTICE_TEXTS } from '../look/texts/refusals.ts';
import type { Documents } from '../state/documents.ts';
import type { ViewState } from '../state/view-state.ts';
import { habitsStore, type OtherWork } from './habits-store.ts';
import { documentsOf, readSlots, type Slot, tidy } from './slots.ts';
import { openTabs, rememberedId, rememberId, takeId } from './tab.ts';

/** Where versions of the bench before slots kept their documents. */
const FORMER_PLACE = 'barwright/bench/1';

/** What this tab goes on with: `id` is its slot from now on. `documents` null: nothing of its own is kept. */
export interface Claim {
  readonly id: string;
  readonly documents: Documents | null;
  readonly view: Partial<ViewState>;
}

let claimed: Promise<Claim> | null = null;

/** Once for a page, however often the bench starts in it. */
export function claimSlot(isFresh: boolean): Promise<Claim> {
  claimed ??= claim(isFresh);
  return claimed;
}

async function claim(isFresh: boolean): Promise<Claim> {
  const slots = await readSlots();
  const open = await openTabs();
  const own = isFresh ? null : await ownSlot(slots, open);
  const id = own === null || navigator.locks === undefined ? crypto.randomUUID() : own.id;
  if (id !== own?.id) await takeId(id);
  rememberId(id);
  const others = slots.filter((slot) => slot.id !== id).map(workOf);
  const offer = own === null && !isFresh ? (others.find((other) => open.has(other.id)) ?? null) : null;
  habitsStore.setState({ others, offer, history: own?.id === id ? own.history : [], savedAt: own?.at ?? null });
  if (open.size === 0) void tidy(id).catch(() => undefined);
  if (own !== null) return { id, documents: await documentsOf(own), view: own.view };
  const former = slots.length > 0 || isFresh ? undefined : await get<Omit<Claim, 'id'>>(FORMER_PLACE);
  return { id, documents: former?.documents ?? null, view: (isFresh ? undefined : (former ?? slots[0]))?.view ?? {} };
}

/** After a reload the tab's own; on a new visit the newest whose tab is gone. While another tab is open: none. */
async function ownSlot(slots: readonly Slot[], open: ReadonlySet<string>): Promise<Slot | null> {
  const former = slots.find(({ id }) => id === rememberedId());
  if (former !== undefined && (await takeSoon(former.id))) return former;
  if (open.size > 0) return null;
  for (const slot of slots) if (await takeId(slot.id)) return slot;
  return null;
}

const TRIES = 5;
const WAIT_MS = 60;

/** A page that is being replaced may hold its id a moment longer. */
async function takeSoon(id: string): Promise<boolean> {
  for (let i = 0; i < TRIES; i++) {
    if (await takeId(id)) return true;
    await new Promise((resolve) => setTimeout(resolve, WAIT_MS));
  }
  return false;
}

export const workOf = ({ id, at, documents }: Pick<Slot, 'id' | 'at' | 'documents'>): OtherWork => ({
  id,
  at,
  name: NOTICE_TEXTS.on(documents.pattern.name, documents.back.name),
});
