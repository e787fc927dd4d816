import type { HowSure } from '@barwright/geometry';
import { onBench } from '../shoulder/on-bench.ts';
import { type Begun, createStepRun } from '../sizing/step-run.ts';
import { studyLine } from '../study-line.ts';
import type { SureWish } from './sure-wish.ts';

export const sureRun = createStepRun<Begun, HowSure>((id) => studyLine().ask((service) => service.sureNext(id)));

/** Draws for what is on the bench now, unless that is what is shown already. */
export function followSure(wish: SureWish): void {
  const on = onBench();
  const key = JSON.stringify([on.backId, on.pattern, on.setup, wish]);
  sureRun.follow(key, () => studyLine().ask((service) => service.sureBegin(on, wish)));
}
