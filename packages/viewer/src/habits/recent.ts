import { delMany, get, setMany } from 'idb-keyval';
import { habitsStore } from './habits-store.ts';

/** Files that were opened together, kept whole so that they open again without the disk. */
export interface RecentFiles {
  readonly key: string;
  /** Milliseconds since 1970. */
  readonly at: number;
  readonly names: readonly string[];
  readonly size: number;
}

const LIST = 'barwright/recent';
const MOST_GROUPS = 12;
const MOST_BYTES = 200 * 1024 * 1024;

/** The list with one more group before it, the same files but once; `dropped` are keys of what no longer has room. */
export function addRecent(
  list: readonly RecentFiles[],
  next: RecentFiles,
): { kept: RecentFiles[]; dropped: RecentFiles[] } {
  const same = (group: RecentFiles): boolean => group.names.join('/') === next.names.join('/');
  const all = [next, ...list.filter((group) => !same(group))];
  let size = 0;
  const fits = all.filter((group, i) => {
    const hasRoom = i === 0 || (i < MOST_GROUPS && size + group.size <= MOST_BYTES);
    if (hasRoom) size += group.size;
    return hasRoom;
  });
  return { kept: fits, dropped: [...list.filter(same), ...all.filter((group) => !fits.includes(group))] };
}

/** Puts opened files at the head of the list. A browser that keeps nothing goes without. */
export async function rememberOpened(files: readonly File[]): Promise<void> {
  if (files.length === 0) return;
  const at = Date.now();
  const names = files.map(({ name }) => name);
  const size = files.reduce((sum, file) => sum + file.size, 0);
  if (size > MOST_BYTES) return;
  const next = { key: `${LIST}/${crypto.randomUUID()}`, at, names, size };
  try {
    const before = (await get<RecentFiles[]>(LIST)) ?? [];
    const { kept, dropped } = addRecent(before, next);
    const entries: [string, unknown][] = [
      [LIST, kept],
      [next.key, [...files]],
    ];
    await setMany(entries);
    await delMany(dropped.map(({ key }) => key));
    habitsStore.setState({ recent: kept });
  } catch {
    // Full, or forbidden: opening the files went well all the same.
  }
}

export async function readRecent(): Promise<void> {
  const recent = await get<RecentFiles[]>(LIST).catch(() => undefined);
  habitsStore.setState({ recent: recent ?? [] });
}

/** The files of a group; empty where the browser has dropped them. */
export const filesOf = async ({ key }: RecentFiles): Promise<readonly File[]> =>
  (await get<File[]>(key).catch(() => undefined)) ?? [];
