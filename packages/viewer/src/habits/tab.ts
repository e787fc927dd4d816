const PLACE = 'barwright/tab';
const LOCK = 'barwright/tab/';

/** Ids of the tabs of this browser that have the bench open. Empty where the browser can't tell. */
export async function openTabs(): Promise<ReadonlySet<string>> {
  const held = (await navigator.locks?.query().catch(() => undefined))?.held ?? [];
  return new Set(held.flatMap(({ name }) => (name?.startsWith(LOCK) ? [name.slice(LOCK.length)] : [])));
}

/**
 * Takes an id for as long as this tab lives; a reload keeps it, a crash gives it back. False where another tab has it, as
 * when a tab was duplicated.
 */
export function takeId(id: string): Promise<boolean> {
  const { locks } = navigator;
  if (locks === undefined) return Promise.resolve(true);
  return new Promise((resolve) => {
    const hold = (lock: Lock | null): Promise<void> | undefined => {
      resolve(lock !== null);
      return lock === null ? undefined : new Promise(() => undefined);
    };
    locks.request(LOCK + id, { ifAvailable: true }, hold).catch(() => resolve(true));
  });
}

/** The id that this tab had before a reload. */
export function rememberedId(): string | null {
  try {
    return sessionStorage.getItem(PLACE);
  } catch {
    return null;
  }
}

export function rememberId(id: string): void {
  try {
    sessionStorage.setItem(PLACE, id);
  } catch {
    // A browser that keeps nothing: a reload is then a new tab.
  }
}
