import { InputError } from '@barwright/geometry';
import { describe, expect, it } from 'vitest';
import { pointsText, readPoints } from './points-text.ts';

describe('points of a curve as text', () => {
  it('come back as they were written, and may be typed in a few ways', () => {
    const points = [
      [-20, 1.8],
      [23, 1],
    ] as const;
    expect(pointsText(points)).toBe('-20 1.8; 23 1');
    expect(readPoints(pointsText(points), 'curve')).toEqual(points);
    expect(readPoints(' -20: 1.8 ;23,1; ', 'curve')).toEqual(points);
  });

  it('are shown shorter than they are kept', () => {
    expect(pointsText([[1 / 60, 1]], 3)).toBe('0.0167 1');
    expect(readPoints(pointsText([[1 / 60, 0.1 + 0.2]]), 'curve')).toEqual([[1 / 60, 0.1 + 0.2]]);
  });

  it.each(['25', '25 40 50', '25 forty', '25 40 40 75', '25,'])('%s is refused with what was expected', (text) => {
    expect(() => readPoints(text, 'curve')).toThrow(InputError);
    expect(() => readPoints(text, 'curve')).toThrow(/pairs of numbers/);
  });

  it('nothing typed is no point: the schema says that one is needed', () => {
    expect(readPoints(' ; ', 'curve')).toEqual([]);
  });
});
