import { type BarGive, flexFigures } from '../seating/index.ts';
import { mm, type Observation, ruleWords } from './observation.ts';
import type { Reading } from './reading.ts';

/** Flexible bars that give more between fork and cantle than the rule allows. Rigid ones never do. */
export function findOverFlex(reading: Reading): Observation[] {
  return givesOf(reading).flatMap((bar) => {
    const sizeMm = Math.abs(bar.middleMm);
    const rule = reading.rules.overFlexMm;
    return sizeMm <= rule ? [] : [observe(reading, bar, sizeMm, rule)];
  });
}

function observe({ seated, rules }: Reading, bar: BarGive, sizeMm: number, rule: number): Observation {
  const x = seated.seat.pose.xMm + seated.samples.frontTipXMm + bar.middleAtMm;
  return {
    code: 'over-flex',
    side: bar.side,
    fromMm: x - HALF_PLACE_MM,
    toMm: x + HALF_PLACE_MM,
    sizeMm,
    ratio: sizeMm / rule,
    withinMeasuringError: false,
    sizeIn: (other) => Math.abs(givesOf(other).find(({ side }) => side === bar.side)?.middleMm ?? 0),
    rule: ruleWords(rules, `${rule} mm`),
    say: (where) =>
      `Between fork and cantle ${where} ${where === 'both bars' ? 'give' : 'gives'} by ${mm(sizeMm)} ${bar.middleMm > 0 ? 'away from' : 'towards'} the horse: the middle is not held`,
  };
}

/** A greatest move is a place; it is shown as this much to either side, mm. */
const HALF_PLACE_MM = 20;

const givesOf = ({ seated }: Reading): readonly BarGive[] => flexFigures(seated)?.bars ?? [];
