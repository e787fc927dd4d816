import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

export interface Interleaved {
  /** Medians, ms. */
  ours: number;
  reference: number;
  ratio: number;
}

export interface MeasureOptions {
  /** Timed rounds of each side. */
  rounds: number;
  /** Untimed rounds of each side first. */
  warmUps: number;
}

export const MEASURE_DEFAULTS: MeasureOptions = Object.freeze({ rounds: 9, warmUps: 2 });

let sink = 0;

/** Run before every round, then one untimed call: neither side's garbage may be swept on the other's time. */
export const collect = exposeCollector();

/**
 * Times two functions in turn within one run, so that both meet the same machine, and answers the medians in ms.
 * Each returns a number that depends on its work, so that none of it can be left out.
 */
export function measureInterleaved(
  ours: () => number,
  reference: () => number,
  options: MeasureOptions = MEASURE_DEFAULTS,
): Interleaved {
  const times = { ours: [] as number[], reference: [] as number[] };
  for (let round = -options.warmUps; round < options.rounds; round++) {
    const oursMs = timeMs(ours);
    const referenceMs = timeMs(reference);
    if (round < 0) continue;
    times.ours.push(oursMs);
    times.reference.push(referenceMs);
  }
  const medians = { ours: median(times.ours), reference: median(times.reference) };
  return { ...medians, ratio: medians.reference / medians.ours };
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

/** What the timed functions returned so far, summed. */
export function sinkValue(): number {
  return sink;
}

function exposeCollector(): () => void {
  setFlagsFromString('--expose-gc');
  return runInNewContext('gc') as () => void;
}

function timeMs(work: () => number): number {
  collect();
  sink += work();
  const start = performance.now();
  sink += work();
  return performance.now() - start;
}
