import {
  buildBack,
  buildTree,
  coreProjectionMm2,
  KG_PER_POUND,
  KPA_PER_PSI,
  type PatternDocument,
  resolvePattern,
  SETUP_DEFAULTS,
  STANDARD_GRAVITY,
  seatTree,
} from '@barwright/geometry';
import { describe, expect, it } from 'vitest';
import { exampleBack, examplePattern } from '../support/examples.ts';

/** Pounds that the core bearing zone carries at 2 psi over its vertical projection. Common practice, no source. */
function poundsAtTwoPsi(pattern: PatternDocument, horse: string): number {
  const tree = buildTree(resolvePattern(pattern));
  const seated = seatTree(tree, buildBack(exampleBack(horse)), SETUP_DEFAULTS);
  const newtons = coreProjectionMm2(seated) * 2 * KPA_PER_PSI * 1e-3;
  return newtons / STANDARD_GRAVITY / KG_PER_POUND;
}

describe.each(['tuesday', 'heron', 'dumpling'])(
  '2 psi over the core zone, on %s (common practice, no source)',
  (horse) => {
    it('the 16 in demo pattern carries 230-250 lb', () => {
      const pounds = poundsAtTwoPsi(examplePattern('post-16'), horse);
      expect(pounds).toBeGreaterThan(230);
      expect(pounds).toBeLessThan(250);
    });

    it('the 18 in carries 255-295 lb, in proportion to length', () => {
      const short = poundsAtTwoPsi(examplePattern('post-16'), horse);
      const long = poundsAtTwoPsi(examplePattern('post-18'), horse);
      expect(long).toBeGreaterThan(255);
      expect(long).toBeLessThan(295);
      expect(long / short).toBeCloseTo(622.3 / 571.5, 2);
    });
  },
);

it('the 16 in and 18 in patterns differ in seat length alone, and stay inside the trade ranges', () => {
  const short = examplePattern('post-16');
  const long = examplePattern('post-18');
  const { seatLength: a, ...restShort } = short.values;
  const { seatLength: b, ...restLong } = long.values;
  expect([a, b]).toEqual(['16 in', '18 in']);
  expect(restLong).toEqual(restShort);
  for (const pattern of [short, long]) {
    const { right } = resolvePattern(pattern);
    const [front, waist, rear] = right.stations.map((s) => s.widthMm);
    // TRADE 1a ranges: front pad 115-180, waist 75-120, rear pad 130-190, overall length 480-660 mm.
    expect(front).toBe(150);
    expect(waist).toBe(95);
    expect(rear).toBe(158);
    expect(right.lengthMm).toBeGreaterThan(480);
    expect(right.lengthMm).toBeLessThan(660);
  }
});
