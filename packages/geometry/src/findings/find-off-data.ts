import { mm, type Observation, ruleWords, SIDES } from './observation.ts';
import type { Reading } from './reading.ts';

/** Bearing surface that lies where nothing was measured: left out of every total. */
export function findOffData(reading: Reading): Observation[] {
  const { samples, seat } = reading.seated;
  const { rules } = reading;
  const out: Observation[] = [];
  for (const side of SIDES) {
    const bar = samples.bars[side === 'left' ? 0 : 1];
    let all = 0;
    let lost = 0;
    let fromMm = Number.POSITIVE_INFINITY;
    let toMm = Number.NEGATIVE_INFINITY;
    for (let i = bar.from; i < bar.to; i++) {
      const area = samples.areaMm2[i]!;
      all += area;
      if (seat.mask[i] === 1 || area === 0) continue;
      lost += area;
      fromMm = Math.min(fromMm, seat.placedMm[3 * i]!);
      toMm = Math.max(toMm, seat.placedMm[3 * i]!);
    }
    const percent = all > 0 ? (100 * lost) / all : 0;
    if (percent <= rules.offDataPercent) continue;
    const lengthMm = (percent / 100) * samples.lengthMm;
    out.push({
      code: 'off-the-data',
      side,
      fromMm,
      toMm,
      sizeMm: lengthMm,
      ratio: percent / rules.offDataPercent,
      withinMeasuringError: false,
      sizeIn: () => null,
      rule: ruleWords(rules, `${rules.offDataPercent} %`),
      say: (where) =>
        `Off the data: ${percent.toFixed(1)} % of the bearing surface of ${where}, as much as ${mm(lengthMm)} of its ` +
        'length, lies where the back was not measured and is left out of every figure',
    });
  }
  return out;
}
