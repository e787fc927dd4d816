import { COMPARE_TEXTS } from '../../look/texts/compare.ts';
import { documentStore } from '../../state/stores.ts';
import { backIdOf } from '../shoulder/on-bench.ts';
import { type Begun, createStepRun } from '../sizing/step-run.ts';
import { studyLine } from '../study-line.ts';
import type { ComparedInput, ComparedView } from './compare-service.ts';
import { BENCH, type ComparedDocuments, keptStore } from './kept-store.ts';

const T = COMPARE_TEXTS.compare;

export const compareRun = createStepRun<Begun, ComparedView>((id) =>
  studyLine().ask((service) => service.compareNext(id)),
);

/** One of the results that are shown, with the letter it is called by. */
export interface Shown {
  readonly id: string;
  readonly letter: string;
  readonly name: string;
  readonly documents: ComparedDocuments;
}

/** What is shown, in its order: A, B, C. */
export function shownResults(): Shown[] {
  const { kept, shown } = keptStore.getState();
  const { pattern, back, setup } = documentStore.getState();
  const found = shown.flatMap((id) => {
    if (id === BENCH) {
      const name = T.onBench(T.resultName(pattern.name, back.name));
      return [{ id, name, documents: { pattern, back, setup } }];
    }
    const one = kept.find((result) => result.id === id);
    return one === undefined ? [] : [one];
  });
  return found.map((one, i) => ({ ...one, letter: String.fromCharCode(65 + i) }));
}

const keyOf = ({ pattern, back, setup }: ComparedDocuments): string => JSON.stringify([backIdOf(back), pattern, setup]);

/** Works out what is shown, unless that is there already. */
export function followCompare(): void {
  const shown = shownResults();
  if (shown.length === 0) return;
  const key = JSON.stringify(shown.map(({ id, documents }) => [id, keyOf(documents)]));
  const inputs = shown.map(
    ({ id, documents: { pattern, setup, back } }): ComparedInput => ({
      id,
      on: { pattern, setup, back, backId: backIdOf(back) },
    }),
  );
  compareRun.follow(key, () => studyLine().ask((service) => service.compareBegin(inputs)));
}
