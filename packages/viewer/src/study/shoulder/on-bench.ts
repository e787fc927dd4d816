import { documentStore } from '../../state/stores.ts';
import type { OnBench } from './bench-of.ts';

const ids = new WeakMap<object, number>();
let last = 0;

/** The documents as they stand, for the studies' worker. */
export function onBench(): OnBench {
  const { pattern, setup, back } = documentStore.getState();
  const backId = ids.get(back) ?? ++last;
  ids.set(back, backId);
  return { pattern, setup, backId, back };
}
