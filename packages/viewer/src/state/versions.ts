import type { PatternDifference, PatternDocument } from '@barwright/geometry';
import { useStore } from 'zustand';
import { loadEditor, openPattern } from './actions.ts';
import type { EditOutcome } from './documents.ts';
import { createKeptStore } from './kept-store.ts';
import { documentStore } from './stores.ts';

/** A pattern as it stood under a name, with what changed since the version before it. */
export interface KeptVersion {
  readonly id: number;
  readonly name: string;
  /** When it was kept, ISO 8601. */
  readonly keptAt: string;
  readonly pattern: PatternDocument;
  /** Name of the version that the changes are counted from; null for the first. */
  readonly since: string | null;
  readonly changes: readonly PatternDifference[];
}

/** Oldest first. */
const NONE: readonly KeptVersion[] = Object.freeze([]);
const MOST = 60;

const isVersion = (one: unknown): one is KeptVersion => {
  const { id, name, pattern, changes } = (one ?? {}) as Partial<KeptVersion>;
  return typeof id === 'number' && typeof name === 'string' && typeof pattern === 'object' && Array.isArray(changes);
};

export const versions = createKeptStore<readonly KeptVersion[]>('barwright/versions/1', NONE, (kept) =>
  Array.isArray(kept) ? kept.filter(isVersion) : null,
);

export const useVersions = (): readonly KeptVersion[] => useStore(versions.store, ({ value }) => value);
export const useVersionsKept = (): boolean => useStore(versions.store, ({ isKept }) => isKept);

/** Keeps the pattern on the bench as it stands, under a name; the oldest goes when there are too many. */
export async function keepVersion(name: string, now: () => Date = () => new Date()): Promise<EditOutcome> {
  const onBench = documentStore.getState().pattern;
  const editor = await loadEditor();
  const held = versions.store.getState().value;
  const named = editor.attempt(() => {
    const pattern: PatternDocument = { ...onBench, name };
    const before = held.at(-1) ?? null;
    return {
      id: 1 + Math.max(0, ...held.map(({ id }) => id)),
      name,
      keptAt: now().toISOString(),
      pattern,
      since: before?.name ?? null,
      changes: before === null ? [] : editor.changesBetween(pattern, before.pattern),
    };
  });
  if (!named.ok) return named;
  versions.put([...held, named.value].slice(-MOST));
  return { ok: true };
}

/** Puts a kept version on the bench again: one step of undo. It is read as if it came from a file. */
export function goToVersion(id: number): EditOutcome {
  const found = versions.store.getState().value.find((version) => version.id === id);
  return found === undefined ? { ok: true } : openPattern(found.pattern, found.name);
}

export function forgetVersion(id: number): void {
  versions.put(versions.store.getState().value.filter((version) => version.id !== id));
}
