import type { OpenedBack } from '../../state/documents.ts';
import { documentStore } from '../../state/stores.ts';
import { backIdOf } from '../shoulder/on-bench.ts';
import { type Begun, createStepRun } from '../sizing/step-run.ts';
import { studyLine } from '../study-line.ts';
import type { HorseRow } from './horses-service.ts';

export const horsesRun = createStepRun<Begun, HorseRow>((id) => studyLine().ask((service) => service.horsesNext(id)));

/** The pattern and setup on the bench over these horses, unless that is what is shown already. */
export function followHorses(backs: readonly OpenedBack[]): void {
  const { pattern, setup } = documentStore.getState();
  const horses = backs.map((back) => ({ backId: backIdOf(back), back }));
  const key = JSON.stringify([pattern, setup, horses.map(({ backId }) => backId)]);
  horsesRun.follow(key, () => studyLine().ask((service) => service.horsesBegin(pattern, setup, horses)));
}
