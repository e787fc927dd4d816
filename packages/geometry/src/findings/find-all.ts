import type { SeatedTree } from '../seating/index.ts';
import { findCannotTell } from './find-cannot-tell.ts';
import { observeAll } from './finding-table.ts';
import type { Finding } from './fit-result.ts';
import { type Observation, whereOf } from './observation.ts';
import { readTree } from './reading.ts';

export interface FindOptions {
  /** Re-run with each suspect value set to the back's own fitted one. */
  readonly causes: boolean;
}

/** Every finding of one seating, largest against its rule first. */
export function findAll(seated: SeatedTree, laidOn: SeatedTree, _options: FindOptions): Finding[] {
  const reading = readTree(seated, laidOn);
  const seen = observeAll(reading);
  return [...seen, ...findCannotTell(reading, seen)].map((o) => toFinding(o));
}

function toFinding(o: Observation): Finding {
  const doubt = o.withinMeasuringError && o.code !== 'cannot-tell' ? '; cannot tell from these measurements' : '';
  return {
    code: o.code,
    side: o.side,
    fromMm: o.fromMm,
    toMm: o.toMm,
    sizeMm: o.sizeMm,
    causes: [],
    sentence: `${o.say(whereOf(o.side))}${doubt}.`,
    withinMeasuringError: o.withinMeasuringError,
  };
}
