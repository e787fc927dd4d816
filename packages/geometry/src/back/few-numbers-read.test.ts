import { describe, expect, it } from 'vitest';
import { InputError } from '../numeric/index.ts';
import { readFewNumbers } from './few-numbers-read.ts';

const WRITTEN = {
  ...{ schema: 'barwright/numbers/1', name: 'Tuesday by hand', usableLength: '19 3/4 in', withersWidth: '7 1/4' },
  ...{ slopeFront: 'left 46, right 45', slopeWaist: { left: 33, right: '32 deg' }, slopeRear: '24', dip: '1 3/8"' },
  measured: { by: 'Quillback Lane bench (invented)', on: '2026-11-20' },
};

function refusal(change: object): InputError['details'] {
  try {
    // As in a file: a field that is undefined is absent.
    readFewNumbers(JSON.parse(JSON.stringify({ ...WRITTEN, ...change })));
  } catch (error) {
    if (error instanceof InputError) return error.details;
    throw error;
  }
  throw new Error('accepted');
}

describe('numbers taken by hand', () => {
  it('are read as a shop writes them, each told with its unit and where that came from', () => {
    const { numbers, given } = readFewNumbers(WRITTEN);
    expect(numbers.usableLengthMm).toBeCloseTo(501.65, 9);
    expect(numbers.withersWidth).toEqual({ widthMm: 7.25 * 25.4, depthMm: 75 });
    expect(numbers.toplineDipMm).toBeCloseTo(1.375 * 25.4, 9);
    expect(numbers.slopesDeg).toEqual({
      behindBlade: { left: 46, right: 45 },
      middle: { left: 33, right: 32 },
      lastRib: 24,
    });
    const from = Object.fromEntries(given.map((number) => [number.name, number.from]));
    expect(from).toEqual({
      ...{ usableLength: 'written', withersWidth: 'fraction', withersDepth: 'assumed', dip: 'written' },
      ...{ 'slopeFront.left': 'default', 'slopeFront.right': 'default', slopeRear: 'default' },
      ...{ 'slopeWaist.left': 'default', 'slopeWaist.right': 'written' },
    });
  });

  it('keep the record and the notes of the person ahead of what is assumed', () => {
    const record = { owner: 'A. Person', surface: 'bare', how: 'flexible ruler and level' } as const;
    const { document } = readFewNumbers({ ...WRITTEN, notes: 'Clipped.', record });
    expect(document.notes).toMatch(/^Clipped\. From a few numbers/);
    expect(document.record).toEqual(record);
  });

  it.each([
    [{ withersWidth: '7-1/4' }, 'ambiguous', 'withersWidth'],
    [{ usableLength: '50 kg' }, 'wrong-unit', 'usableLength'],
    [{ usableLength: '50 mm' }, 'out-of-range', 'usableLength'],
    [{ slopeFront: 88 }, 'out-of-range', 'slopeFront'],
    [{ slopeFront: 'left 46' }, 'syntax', 'slopeFront'],
    [{ dip: '1,5 in' }, 'syntax', 'dip'],
    [{ sag: 20 }, 'inconsistent', 'sag'],
    [{ dip: undefined }, 'missing', 'sag'],
    [{ withersWidth: '15 in' }, 'inconsistent', 'withersWidth'],
    [{ slopeRear: undefined }, 'missing', 'slopeRear'],
    [{ barAngle: 90 }, 'unknown-field', 'barAngle'],
    [{ schema: 'barwright/back/1' }, 'unknown-schema', 'schema'],
  ])('refuse %j: %s at %s', (change, code, field) => {
    expect(refusal(change)).toMatchObject({ code, field });
  });
});
