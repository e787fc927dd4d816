import type { GiveStudy } from '@barwright/geometry';
import { onBench } from '../shoulder/on-bench.ts';
import { createStepRun } from '../sizing/step-run.ts';
import { studyLine } from '../study-line.ts';
import type { GiveBegun } from './give-service.ts';

export const giveRun = createStepRun<GiveBegun, GiveStudy>((id) => studyLine().ask((service) => service.giveNext(id)));

/** Works out what is on the bench now, unless that is what is shown already: the bench's own switch changes nothing here. */
export function followGive(): void {
  const on = onBench();
  const { setup } = on;
  const key = JSON.stringify([on.backId, on.pattern, { ...setup, flex: { ...setup.flex, bars: null } }]);
  giveRun.follow(key, () => studyLine().ask((service) => service.giveBegin(on)));
}
