import type { OpenedBack } from '../../state/documents.ts';
import { documentStore } from '../../state/stores.ts';
import type { OnBench } from './bench-of.ts';

const ids = new WeakMap<object, number>();
let last = 0;

/** The same for the same opened back, as long as the page lives. */
export function backIdOf(back: OpenedBack): number {
  const id = ids.get(back) ?? ++last;
  ids.set(back, id);
  return id;
}

/** The documents as they stand, for the studies' worker. */
export function onBench(): OnBench {
  const { pattern, setup, back } = documentStore.getState();
  return { pattern, setup, backId: backIdOf(back), back };
}
