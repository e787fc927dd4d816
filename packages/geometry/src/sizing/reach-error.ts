import type { BackSurface } from '../back/index.ts';
import { seededRandom } from '../numeric/index.ts';
import { drawError } from './measuring-error.ts';
import { fallAt } from './measuring-error-lift.ts';
import type { BackChangeStep, Chord } from './reach-lift.ts';

const BEARING_Y_MM = 120;
const DEGREES = 180 / Math.PI;

/** Places of the chord that slope is read at, as shares of its half from its middle. */
const PLACES = [-1, -0.5, 0, 0.5, 1] as const;

/** Mean slope of both sides over the chord, degrees, of the back with a lift on it. NaN off the data. */
export function meanSlopeDeg(back: BackSurface, chord: Chord, liftAt = (_x: number, _y: number): number => 0): number {
  let sum = 0;
  for (const place of PLACES) {
    const x = chord.middleXMm + place * chord.halfMm;
    for (const sign of [-1, 1] as const) {
      const more = (liftAt(x, sign * 90) - liftAt(x, sign * 150)) / 60;
      sum += DEGREES * Math.atan(fallAt(back, sign, x) + more);
    }
  }
  return sum / (2 * PLACES.length);
}

/** What drawn errors of measuring come to in mean slope and in sag over the chord. */
export function drawSteps(back: BackSurface, chord: Chord, draws: number, seed: number): BackChangeStep[] {
  const random = seededRandom(seed);
  const own = meanSlopeDeg(back, chord);
  return Array.from({ length: draws }, () => {
    const { lift } = drawError(back, random);
    const height = (place: number): number => {
      const x = chord.middleXMm + place * chord.halfMm;
      return (lift.at(x, BEARING_Y_MM) + lift.at(x, -BEARING_Y_MM)) / 2;
    };
    return {
      slopeDeg: meanSlopeDeg(back, chord, lift.at) - own,
      sagMm: (height(-1) + height(1)) / 2 - height(0),
    };
  });
}

export function deviation(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}
