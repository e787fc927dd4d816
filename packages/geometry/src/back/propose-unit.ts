import { symmetricEigen } from '../numeric/index.ts';
import type { Confidence, Proposal } from './propose-part.ts';
import { SCAN_UNIT_MM } from './scan-schema.ts';

export type ScanUnit = keyof typeof SCAN_UNIT_MM;

/**
 * Sides that a scan may have, mm, longest first, with the spread of each as a natural logarithm. From memory, no source:
 * what a scanner is passed over when a saddle is meant, and a horse of 1.4 to 1.7 m standing whole.
 */
export const SCAN_SIZES = Object.freeze({
  back: { sides: [700, 470, 220], spread: [0.3, 0.3, 0.45], words: "a horse's back" },
  whole: { sides: [2200, 1600, 600], spread: [0.2, 0.25, 0.3], words: 'a whole horse' },
});

const UNITS: readonly ScanUnit[] = ['mm', 'cm', 'm', 'in'];
/** A unit that the file itself states counts this many times: exporters get it wrong. */
const STATED_WEIGHT = 3;
const CLEAR_RATIO = 20;
const LIKELY_RATIO = 4;
/** Below this likeness no unit makes sense. */
const LEAST_LIKENESS = 0.01;

/** Unit of a scan from its sides (file unit, longest first) against the size of a back or a whole horse. */
export function proposeUnit(sides: readonly number[], stated?: ScanUnit): Proposal<ScanUnit> {
  const ranked = UNITS.map((unit) => {
    const { likeness, words } = bestSize(sides.map((side) => side * SCAN_UNIT_MM[unit]));
    const weight = unit === stated ? STATED_WEIGHT : 1;
    const shown = sides.map((side) => (side * SCAN_UNIT_MM[unit]).toPrecision(3)).join(' x ');
    const said = unit === stated ? ' The file states it.' : '';
    return {
      value: unit,
      likeness,
      score: likeness * weight,
      reason: `In ${unit} it is ${shown} mm, ${words}.${said}`,
    };
  }).sort((a, b) => b.score - a.score);
  const total = ranked.reduce((sum, { score }) => sum + score, 0);
  const [best, next] = ranked;
  const isOdd = !(best.likeness >= LEAST_LIKENESS);
  return {
    value: best.value,
    alternatives: ranked.slice(1).map(({ value, score, reason }) => ({
      value,
      score: total > 0 ? score / total : 0,
      reason,
    })),
    reason: isOdd ? `No unit makes this the size of a back or of a horse. ${best.reason}` : best.reason,
    confidence: isOdd ? 'unsure' : byRatio(best.score / next.score),
    given: false,
  };
}

function byRatio(ratio: number): Confidence {
  if (ratio >= CLEAR_RATIO) return 'clear';
  return ratio >= LIKELY_RATIO ? 'likely' : 'unsure';
}

function bestSize(sidesMm: readonly number[]): { likeness: number; words: string } {
  const of = ({ sides, spread, words }: (typeof SCAN_SIZES)[keyof typeof SCAN_SIZES]) => {
    const square = sidesMm.reduce((sum, side, k) => sum + (Math.log(side / sides[k]) / spread[k]) ** 2, 0);
    return { likeness: Math.exp(-square / 2), words: `the size of ${words}` };
  };
  const back = of(SCAN_SIZES.back);
  const whole = of(SCAN_SIZES.whole);
  const best = back.likeness >= whole.likeness ? back : whole;
  return best.likeness >= LEAST_LIKENESS ? best : { ...best, words: 'neither a back nor a whole horse' };
}

/** Sides along the principal directions of the points, longest first, without the outermost hundredth at each end. */
export function principalSides(positions: Float64Array): number[] {
  const n = positions.length / 3;
  const stride = Math.max(1, Math.floor(n / 20_000));
  const mean = [0, 0, 0];
  const product = new Float64Array(9);
  let count = 0;
  for (let i = 0; i < n; i += stride, count++) for (let k = 0; k < 3; k++) mean[k] += positions[3 * i + k];
  for (let k = 0; k < 3; k++) mean[k] /= count;
  for (let i = 0; i < n; i += stride) {
    for (let r = 0; r < 9; r++) {
      const [a, b] = [Math.floor(r / 3), r % 3];
      product[r] += (positions[3 * i + a] - mean[a]) * (positions[3 * i + b] - mean[b]);
    }
  }
  const sides = symmetricEigen(product, 3).vectors.map((axis) => {
    const along = new Float64Array(count);
    for (let i = 0, at = 0; i < n; i += stride, at++) {
      along[at] = axis[0] * positions[3 * i] + axis[1] * positions[3 * i + 1] + axis[2] * positions[3 * i + 2];
    }
    along.sort();
    return along[Math.floor(0.99 * (count - 1))] - along[Math.ceil(0.01 * (count - 1))];
  });
  return sides.sort((a, b) => b - a);
}
