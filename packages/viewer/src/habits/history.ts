import type { Change } from './what-changed.ts';

export interface Step {
  readonly key: string;
  readonly at: number;
  readonly says: string;
}

export const MOST_STATES = 40;
/** Steps of one kind closer than this are one state: a value that is tried out, a drag. */
const JOIN_MS = 60_000;

/**
 * A list of states with one more at its end; a change of the same kind soon after takes its place instead. Returns the
 * keys that fell out as well.
 */
export function addStep<S extends Step>(
  list: readonly S[],
  next: Step,
  change: Change,
  lastTopic: string | null,
): { list: readonly (S | Step)[]; dropped: readonly string[] } {
  const last = list.at(-1);
  const joins = last !== undefined && lastTopic === change.topic && next.at - last.at < JOIN_MS;
  const all = joins ? [...list.slice(0, -1), { ...next, key: last.key }] : [...list, next];
  const over = Math.max(0, all.length - MOST_STATES);
  return { list: all.slice(over), dropped: all.slice(0, over).map(({ key }) => key) };
}
