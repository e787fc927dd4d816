import { readPattern } from '@barwright/geometry';
import { describe, expect, test } from 'vitest';
import { demoPattern } from '../files/demos.ts';
import { describePattern, editPattern } from '../state/editor.ts';
import { barSideOf, shapeChange } from './bar-side.ts';
import { rockOfSag, sagOfRock } from './rock-sag.ts';

const post = readPattern(demoPattern('post'));
const viewOf = (changes: readonly (readonly [string, string | number])[]) =>
  describePattern(
    changes.reduce((document, [key, value]) => {
      const edited = editPattern(document, key, value);
      if (!edited.ok) throw new Error(edited.error.expected);
      return edited.value;
    }, post),
  );

describe('handles of the bar side', () => {
  const RANGE = { chordMm: 420, leastMm: 400, mostMm: 20_000 };

  test('sag and radius are each other turned round: chord2 / 8 R to the second order, exactly by Pythagoras', () => {
    expect(sagOfRock(1450, 420)).toBeCloseTo(1450 - Math.sqrt(1450 ** 2 - 210 ** 2), 12);
    expect(Math.abs(sagOfRock(1450, 420) / (420 ** 2 / (8 * 1450)) - 1)).toBeLessThan(0.006);
    for (const sag of [2, 5, 15.3, 40]) expect(sagOfRock(rockOfSag(sag, 0, RANGE) as number, 420)).toBeCloseTo(sag, 9);
  });

  test('below the largest radius there is flat going down, and that radius coming up', () => {
    expect(rockOfSag(0.4, 1.2, RANGE)).toBe('flat');
    expect(rockOfSag(0.5, 0, RANGE)).toBe(20_000);
    expect(rockOfSag(500, 15, RANGE)).toBe(400);
  });

  test('of a pattern: sag over the bearing length as on the card, lifts in their ranges', () => {
    const bar = barSideOf(viewOf([]));
    expect(bar.rock!.range.chordMm).toBe(420);
    // The table of the demo bars says 15.2 by chord2 / 8 R; exactly it is a little more.
    expect(bar.rock!.mm / (420 ** 2 / (8 * 1450)) - 1).toBeGreaterThan(0);
    expect(bar.rock!.mm / 15.2 - 1).toBeLessThan(0.006);
    expect(bar.rock!.lowPointMm).toBe(280);
    expect(bar.flareFront).toEqual({ mm: 18, minMm: 0, maxMm: 80 });
    expect(shapeChange(bar, 'flareRear', 12.5, 14)).toEqual(['flareLiftRear', 12.5]);
    const [key, radius] = shapeChange(bar, 'rock', 20, bar.rock!.mm);
    expect(key).toBe('rockRadius');
    expect(sagOfRock(radius, 420)).toBeCloseTo(20, 4);
  });

  test('what is written with other values is left to the card, and a tip without a zone has nothing to lift', () => {
    expect(barSideOf(viewOf([['flareLiftFront', 'flareLiftRear + 4 mm']])).flareFront).toBeNull();
    expect(barSideOf(viewOf([['flareZoneRear', 0]])).flareRear).toBeNull();
  });

  test('at its ends the range of the rock makes a pattern that is read', () => {
    const bar = barSideOf(viewOf([]));
    for (const sag of [bar.rock!.minMm, bar.rock!.maxMm])
      expect(editPattern(post, ...shapeChange(bar, 'rock', sag, bar.rock!.mm)).ok).toBe(true);
  });
});
