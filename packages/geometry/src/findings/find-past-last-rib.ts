import { squeezeBetween } from '../layers/index.ts';
import type { Side } from '../spatial/index.ts';
import { mm, type Observation, ruleWords, SIDES } from './observation.ts';
import { type Reading, squeezeMm } from './reading.ts';

/** Bearing past the last rib: the furthest place that presses, rear flare included. */
export function findPastLastRib(reading: Reading): Observation[] {
  const { rules, seated } = reading;
  const ribX = seated.back.landmarks.lastRib[0];
  const out: Observation[] = [];
  for (const side of SIDES) {
    const past = pastRibMm(reading, side);
    if (past === null || past <= rules.pastRibMm) continue;
    out.push({
      code: 'past-last-rib',
      side,
      fromMm: ribX,
      toMm: ribX + past,
      sizeMm: past,
      // The rule may be 0, so what lies beyond it is counted in hands.
      ratio: 1 + (past - rules.pastRibMm) / HAND_MM,
      withinMeasuringError: past - rules.pastRibMm <= seated.back.measured.uncertaintyMm,
      sizeIn: (other) => Math.max(0, pastRibMm(other, side) ?? 0),
      rule: ruleWords(rules, `${mm(rules.pastRibMm)} past it, counting from ${rules.pastRibKPa} kPa`),
      say: (where) => `Bearing of ${where} passes the last rib by ${mm(past)}, on the loin`,
    });
  }
  return out;
}

const HAND_MM = 101.6;

/** Furthest x that presses more than the rule's pressure, less the last rib's, mm; null without such a place. */
function pastRibMm({ seated, rules }: Reading, side: Side): number | null {
  const { samples, seat, stack, back } = seated;
  const bar = samples.bars[side === 'left' ? 0 : 1];
  const needMm = squeezeBetween(stack, 0, rules.pastRibKPa);
  const most = (row: number): { squeeze: number; xMm: number } => {
    let squeeze = Number.NEGATIVE_INFINITY;
    let xMm = 0;
    for (let j = 0; j < samples.columns; j++) {
      const i = bar.from + row * samples.columns + j;
      const s = samples.areaMm2[i] === 0 ? Number.NaN : squeezeMm(seated, i);
      if (!(s > squeeze)) continue;
      squeeze = s;
      xMm = seat.placedMm[3 * i]!;
    }
    return { squeeze, xMm };
  };
  for (let row = samples.rows - 1; row >= 0; row--) {
    const here = most(row);
    if (!(here.squeeze > needMm)) continue;
    const next = row + 1 < samples.rows ? most(row + 1) : null;
    const share =
      next === null || next.squeeze === Number.NEGATIVE_INFINITY
        ? 0
        : (here.squeeze - needMm) / (here.squeeze - next.squeeze);
    return here.xMm + share * ((next?.xMm ?? here.xMm) - here.xMm) - back.landmarks.lastRib[0];
  }
  return null;
}
