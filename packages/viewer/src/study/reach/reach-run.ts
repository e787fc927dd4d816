import { todayIso } from '../../look/today.ts';
import { onBench } from '../shoulder/on-bench.ts';
import { type Begun, createStepRun } from '../sizing/step-run.ts';
import { studyLine } from '../study-line.ts';
import type { ReachView } from './reach-service.ts';

export const reachRun = createStepRun<Begun, ReachView>((id) => studyLine().ask((service) => service.reachNext(id)));

/** Maps what is on the bench now, unless that is what is shown already. */
export function followReach(): void {
  const on = onBench();
  const key = JSON.stringify([on.backId, on.pattern, on.setup]);
  reachRun.follow(key, () => studyLine().ask((service) => service.reachBegin(on, todayIso())));
}
