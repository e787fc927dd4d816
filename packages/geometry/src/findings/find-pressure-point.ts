import { squeezeBetween } from '../layers/index.ts';
import { peakOverDisc } from '../seating/index.ts';
import type { Side } from '../spatial/index.ts';
import { type Observation, ruleWords, SIDES } from './observation.ts';
import { besidePublished } from './published-pressure.ts';
import type { Reading } from './reading.ts';

interface Peak {
  readonly kPa: number;
  readonly cell: number;
}

/** A patch well above the tree's mean: peak over the averaging cell above a multiple of the mean or above its limit. */
export function findPressurePoint(reading: Reading): Observation[] {
  const { rules, contact, seated } = reading;
  const out: Observation[] = [];
  for (const side of SIDES) {
    const peak = peakOf(reading, side);
    if (peak.cell < 0 || contact.meanPressureKPa <= 0) continue;
    const byMean = peak.kPa / (rules.pressurePointTimesMean * contact.meanPressureKPa);
    const byLimit = peak.kPa / seated.setup.limits.peakKPa;
    if (Math.max(byMean, byLimit) <= 1) continue;
    out.push(observe(reading, side, peak, Math.max(byMean, byLimit)));
  }
  return out;
}

/** Highest disc mean of one bar. */
function peakOf({ seated }: Reading, side: Side): Peak {
  const { samples, seat, setup } = seated;
  const bar = samples.bars[side === 'left' ? 0 : 1];
  const own = new Float64Array(samples.count);
  own.set(seat.pressureMPa.subarray(bar.from, bar.to), bar.from);
  const peak = peakOverDisc(samples, seat.placedMm, own, setup.averagingCellCm2 * 100);
  return { kPa: 1000 * peak.pressureMPa, cell: peak.at };
}

/** Squeeze at the peak beyond the mean pressure's, in mm of the given layers: so that softer layers count as relief. */
const extraSqueezeMm = (reading: Reading, peakKPa: number, layers: Reading): number =>
  squeezeBetween(layers.seated.stack, reading.contact.meanPressureKPa, peakKPa);

function observe(reading: Reading, side: Side, peak: Peak, ratio: number): Observation {
  const { rules, contact, seated } = reading;
  const level = Math.min(rules.pressurePointTimesMean * contact.meanPressureKPa, seated.setup.limits.peakKPa);
  const patch = patchAbove(reading, side, level / 1000, peak.cell);
  const overMm = squeezeBetween(seated.stack, level, peak.kPa);
  return {
    code: 'pressure-point',
    side,
    fromMm: patch.fromMm,
    toMm: patch.toMm,
    sizeMm: extraSqueezeMm(reading, peak.kPa, reading),
    ratio,
    withinMeasuringError: overMm <= seated.back.measured.uncertaintyMm,
    sizeIn: (other) => extraSqueezeMm(other, peakOf(other, side).kPa, reading),
    rule: ruleWords(
      rules,
      `${rules.pressurePointTimesMean} times the mean of ${contact.meanPressureKPa.toFixed(1)} kPa, or ${seated.setup.limits.peakKPa} kPa`,
    ),
    say: (where) =>
      `Pressure point under ${where}: ${patch.areaCm2.toFixed(0)} cm2 press above ${level.toFixed(1)} kPa, ` +
      `${peak.kPa.toFixed(1)} kPa over ${seated.setup.averagingCellCm2} cm2 at most, ` +
      `${besidePublished(peak.kPa, 'peak')}`,
  };
}

/** The patch of neighbouring cells above a level around one cell. */
function patchAbove({ seated }: Reading, side: Side, levelMPa: number, from: number) {
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
