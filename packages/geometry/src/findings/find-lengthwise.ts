import { bearingEnds } from '../seating/index.ts';
import type { Side } from '../spatial/index.ts';
import { mm, type Observation, ruleWords, SIDES } from './observation.ts';
import type { Reading } from './reading.ts';

/** Bridging and rocking: the laid-on middle against the line through both bearing ends, side by side (DESIGN 4). */
export function findLengthwise(reading: Reading): Observation[] {
  const out: Observation[] = [];
  for (const side of SIDES) {
    const value = lengthwiseOf(reading, side);
    if (value === null || Math.abs(value) <= reading.rules.lengthwiseMm) continue;
    out.push(observe(reading, side, value));
  }
  return out;
}

function lengthwiseOf(reading: Reading, side: Side): number | null {
  return side === 'left' ? reading.mismatch.lengthwiseLeftMm : reading.mismatch.lengthwiseRightMm;
}

function observe(reading: Reading, side: Side, value: number): Observation {
  const { rules, seated, laidOn } = reading;
  const bridges = value > 0;
  const ends = bearingEnds(seated.tree);
  const tipX = laidOn.seat.pose.xMm + laidOn.samples.frontTipXMm;
  const sign = bridges ? 1 : -1;
  return {
    code: bridges ? 'bridging' : 'rocking',
    side,
    fromMm: tipX + ends.fromMm,
    toMm: tipX + ends.toMm,
    sizeMm: Math.abs(value),
    ratio: Math.abs(value) / rules.lengthwiseMm,
    withinMeasuringError: Math.abs(value) - rules.lengthwiseMm <= seated.back.measured.uncertaintyMm,
    sizeIn(other) {
      const again = lengthwiseOf(other, side);
      return again === null ? null : sign * again;
    },
    rule: ruleWords(rules, mm(rules.lengthwiseMm)),
    say: (where) => (bridges ? bridging : rocking)(reading, where, Math.abs(value)),
  };
}

function bridging({ contact }: Reading, where: string, size: number): string {
  const middle = (100 * contact.shareMiddle).toFixed(0);
  return (
    `Bridges: laid on, daylight opens under the middle of ${where}, ${mm(size)} against the bearing ends; ` +
    `loaded, the middle third carries ${middle} % of the load`
  );
}

function rocking({ contact }: Reading, where: string, size: number): string {
  const middle = (100 * contact.shareMiddle).toFixed(0);
  return (
    `Rocks: laid on, the middle of ${where} bears and the bearing ends come ${mm(size)} clear of it; ` +
    `loaded, the middle third carries ${middle} % of the load`
  );
}
