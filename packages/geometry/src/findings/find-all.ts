import type { SeatedTree } from '../seating/index.ts';
import { CauseSearch, type ToldCause } from './causes.ts';
import { findCannotTell } from './find-cannot-tell.ts';
import { findSetPositionSensitive } from './find-set-position-sensitive.ts';
import { observeAll } from './finding-table.ts';
import type { Finding } from './fit-result.ts';
import { mm, type Observation, whereOf } from './observation.ts';
import { readTree } from './reading.ts';

export interface FindOptions {
  /** Re-run with each suspect value set to the back's own fitted one. */
  readonly causes: boolean;
}

/** Causes named in a sentence. */
const MOST_TOLD = 4;

/** Every finding of one seating, largest against its rule first; what sums the others up comes last. */
export function findAll(seated: SeatedTree, laidOn: SeatedTree, options: FindOptions): Finding[] {
  const reading = readTree(seated, laidOn);
  const seen = observeAll(reading);
  const search = options.causes && seated.status !== 'no contact' ? new CauseSearch(reading) : null;
  return [
    ...seen.map((o) => toFinding(o, search?.causesOf(o) ?? [])),
    ...(search === null ? [] : findSetPositionSensitive(reading, search)).map((o) => toFinding(o, [])),
    ...findCannotTell(reading, seen).map((o) => toFinding(o, [])),
  ];
}

function toFinding(o: Observation, causes: readonly ToldCause[]): Finding {
  const doubt = o.withinMeasuringError && o.code !== 'cannot-tell' ? '; cannot tell from these measurements' : '';
  return {
    code: o.code,
    side: o.side,
    fromMm: o.fromMm,
    toMm: o.toMm,
    sizeMm: o.sizeMm,
    causes: causes.map(({ because: _, ...cause }) => cause),
    sentence: `${o.say(whereOf(o.side))}${tellCauses(o, causes)}${doubt} (${o.rule}).`,
    withinMeasuringError: o.withinMeasuringError,
  };
}

/** ", mostly because ..., without that 0.3 mm; length adds 3.9 mm" */
function tellCauses(o: Observation, causes: readonly ToldCause[]): string {
  const [first, ...others] = causes;
  if (first === undefined) return '';
  const singles = others.filter((c) => c.names.length === 1).slice(0, MOST_TOLD - 1);
  const adds = singles.map((c) => `; ${c.cause} adds ${mm(c.sizeMm - Math.max(0, c.sizeWithoutMm))}`).join('');
  const share = 1 - Math.abs(first.sizeWithoutMm) / first.sizeMm;
  const how = share >= 0.5 ? 'mostly' : 'partly';
  const spread =
    o.code === 'low-spine-clearance' && first.names.includes('spread')
      ? '; spread changes height and spine clearance and hardly shows in the pressures'
      : '';
  return `, ${how} because ${first.because}, without that ${mm(Math.max(0, first.sizeWithoutMm))}${adds}${spread}`;
}
