import { fileNameFor, saveJson } from '../files/save-file.ts';
import { NOTICE_TEXTS } from '../look/texts/refusals.ts';
import { documentStore, resultStore, viewStore } from '../state/stores.ts';
import { benchOf } from './bench-file.ts';
import { hashOf, MOST_SIGNS } from './link.ts';

const onBench = () => benchOf(documentStore.getState(), viewStore.getState());

/** The whole bench as one file. */
export async function saveBench(): Promise<void> {
  const bench = await onBench();
  const name = fileNameFor(bench.name, 'bench');
  saveJson(bench, name);
  resultStore.setState({ notice: NOTICE_TEXTS.saved(name) });
}

/** A link that holds the whole bench; `null` where it would be too long, as with a scan. */
export async function linkToBench(): Promise<string | null> {
  const { back, lesson } = documentStore.getState();
  const carriesScan = [back, ...Object.values(lesson?.backs ?? {})].some(({ mesh }) => mesh !== null);
  if (carriesScan) return null;
  const hash = await hashOf(await onBench());
  if (hash.length > MOST_SIGNS) return null;
  const { origin, pathname, protocol } = window.location;
  return `${protocol === 'file:' ? window.location.href.replace(/[?#].*$/, '') : origin + pathname}${hash}`;
}
