import { DEMO_BACKS, demoBack } from '../../files/demos.ts';
import type { OpenedBack } from '../../state/documents.ts';
import { documentStore } from '../../state/stores.ts';

/** So many opened backs are remembered: a scan may hang on each. */
const MOST_SEEN = 8;

let seen: readonly OpenedBack[] = [];

function see(back: OpenedBack | undefined): void {
  if (back === undefined || seen.includes(back)) return;
  seen = [...seen, back].slice(-MOST_SEEN);
}

/** Remembers each back that lies on the bench from here on, until the page goes. */
export function followBacks(): () => void {
  see(documentStore.getState().back);
  return documentStore.subscribe(({ back }, before) => {
    if (back !== before.back) see(back);
  });
}

const demos = DEMO_BACKS.flatMap(({ id }) => demoBack(id) ?? []);

/** Demo backs, and those that were on the bench this time; each document once. */
export function horsesToTry(): OpenedBack[] {
  const isDemo = ({ json, mesh }: OpenedBack): boolean =>
    mesh === null && demos.some((demo) => sameJson(demo.json, json));
  const own = seen.filter((back) => !isDemo(back));
  return [...demos, ...own.filter((back, i) => own.findIndex((one) => isSame(one, back)) === i)];
}

/** Whether both are the same document with the same scan. */
export const isSame = (a: OpenedBack, b: OpenedBack): boolean =>
  a === b ||
  (sameJson(a.json, b.json) && a.mesh?.fileName === b.mesh?.fileName && a.mesh?.bytes.length === b.mesh?.bytes.length);

const sameJson = (a: unknown, b: unknown): boolean => a === b || JSON.stringify(a) === JSON.stringify(b);
