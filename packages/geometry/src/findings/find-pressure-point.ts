import { squeezeBetween } from '../layers/index.ts';
import type { Side } from '../spatial/index.ts';
import { type Observation, ruleWords, SIDES } from './observation.ts';
import { type Peak, patchAbove, peakOf } from './patch-above.ts';
import { besidePublished } from './published-pressure.ts';
import type { Reading } from './reading.ts';

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
