import { peakOverDisc } from '../seating/index.ts';
import type { Side } from '../spatial/index.ts';
import type { Reading } from './reading.ts';

/** Highest mean over the averaging cell, and the cell at its middle; -1 where nothing presses. */
export interface Peak {
  readonly kPa: number;
  readonly cell: number;
}

/** Highest disc mean of one bar. */
export function peakOf({ seated }: Reading, side: Side): Peak {
  const { samples, seat, setup } = seated;
  const bar = samples.bars[side === 'left' ? 0 : 1];
  const own = new Float64Array(samples.count);
  own.set(seat.pressureMPa.subarray(bar.from, bar.to), bar.from);
  const peak = peakOverDisc(samples, seat.placedMm, own, setup.averagingCellCm2 * 100);
  return { kPa: 1000 * peak.pressureMPa, cell: peak.at };
}

/** The patch of neighbouring cells above a level around one cell. */
export function patchAbove({ seated }: Reading, side: Side, levelMPa: number, from: number) {
  const { samples, seat } = seated;
  const bar = samples.bars[side === 'left' ? 0 : 1];
  const seen = new Set<number>([from]);
  const queue = [from];
  let areaMm2 = 0;
  let fromMm = Number.POSITIVE_INFINITY;
  let toMm = Number.NEGATIVE_INFINITY;
  while (queue.length > 0) {
    const i = queue.pop()!;
    areaMm2 += samples.areaMm2[i]!;
    fromMm = Math.min(fromMm, seat.placedMm[3 * i]!);
    toMm = Math.max(toMm, seat.placedMm[3 * i]!);
    const column = (i - bar.from) % samples.columns;
    const next = [i - samples.columns, i + samples.columns];
    if (column > 0) next.push(i - 1);
    if (column < samples.columns - 1) next.push(i + 1);
    for (const k of next) {
      if (k < bar.from || k >= bar.to || seen.has(k) || !(seat.pressureMPa[k]! > levelMPa)) continue;
      seen.add(k);
      queue.push(k);
    }
  }
  return { areaCm2: areaMm2 / 100, fromMm, toMm };
}
