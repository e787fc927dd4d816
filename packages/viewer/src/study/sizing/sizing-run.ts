import type { Documents } from '../../state/index.ts';
import { onBench } from '../shoulder/on-bench.ts';
import { studyLine } from '../study-line.ts';
import type { SizingInputs } from './sizing-inputs.ts';
import type { OpenedShelf, SizingBegun, SizingPart } from './sizing-service.ts';
import { createStepRun } from './step-run.ts';

export const sizingRun = createStepRun<SizingBegun, SizingPart>((id) =>
  studyLine().ask((service) => service.sizingNext(id)),
);

/** Sizes the shelf for what is on the bench now, unless that is what the table shows already. */
export function followSizing({ rider, shelf }: Pick<SizingInputs, 'rider' | 'shelf'>, setup: Documents['setup']): void {
  const on = onBench();
  const key = JSON.stringify([on.backId, ownOf(setup, shelf), rider, shelf.json, shelf.pattern]);
  sizingRun.follow(key, () => studyLine().ask((service) => service.sizingBegin(on, rider, shelf)));
}

/** The setup without what the rider and the shelf bring: putting a tree on the bench asks no new question. */
function ownOf(setup: Documents['setup'], shelf: OpenedShelf): unknown {
  const { pads, skirts } = shelf.json as { pads?: unknown[]; skirts?: unknown[] };
  const brings = (pads?.length ?? 0) + (skirts?.length ?? 0) > 0;
  return {
    ...setup,
    layers: brings ? setup.layers.slice(0, 1) : setup.layers,
    load: { ...setup.load, riderKg: null, at: null },
  };
}
