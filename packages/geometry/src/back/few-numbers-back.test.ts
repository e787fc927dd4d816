import { describe, expect, it } from 'vitest';
import { InputError } from '../numeric/index.ts';
import { buildSectionsBack } from './build-sections-back.ts';
import { backFromFewNumbers, FEW_NUMBERS_UNCERTAINTY, type FewNumbers } from './few-numbers-back.ts';
import { readBack } from './read-back.ts';

const NUMBERS: FewNumbers = {
  name: 'Tuesday by hand',
  usableLengthMm: 500,
  withersWidth: { widthMm: 184, depthMm: 75 },
  slopesDeg: { behindBlade: 45, middle: 32, lastRib: 24 },
  bearingLineSagMm: 22,
  measured: { by: 'by hand', on: '2024-05-01' },
};

const refused = (numbers: FewNumbers): InputError => {
  try {
    backFromFewNumbers(numbers);
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('accepted');
};

const slopeDeg = (height: (y: number) => number, y: number): number =>
  (Math.atan((height(y - 0.1) - height(y + 0.1)) / 0.2) * 180) / Math.PI;

describe('a back from a few numbers', () => {
  const doc = backFromFewNumbers(NUMBERS);
  const back = buildSectionsBack(doc);

  it('has the numbers it was made from: width, slopes, sag, length', () => {
    expect(back.heightMm(0, 0) - back.heightMm(0, 92)).toBeCloseTo(75, 3);
    for (const [x, slope] of [
      [0, 45],
      [250, 32],
      [500, 24],
    ] as const) {
      expect(slopeDeg((y) => back.heightMm(x, y), 119.9)).toBeCloseTo(slope, 0);
    }
    const ends = (back.heightMm(0, 120) + back.heightMm(500, 120)) / 2;
    expect(ends - back.heightMm(250, 120)).toBeCloseTo(22, 6);
    expect(back.landmarks.lastRib[0]).toBe(500);
  });

  it('is a document like any other, carries wide uncertainty and says that it is assumed', () => {
    expect(readBack(JSON.parse(JSON.stringify(doc)))).toEqual(doc);
    expect(doc.measured).toMatchObject({ uncertaintyMm: FEW_NUMBERS_UNCERTAINTY.mm, uncertaintyDeg: 4 });
    expect(doc.notes).toMatch(/assumed average shape.*from memory.*common practice, no source/);
  });

  it('a topline dip is a dip of the midline', () => {
    const { bearingLineSagMm: _, ...rest } = NUMBERS;
    const dipped = buildSectionsBack(backFromFewNumbers({ ...rest, toplineDipMm: 40 }));
    const ends = (dipped.heightMm(0, 0) + dipped.heightMm(500, 0)) / 2;
    expect(ends - dipped.heightMm(250, 0)).toBeCloseTo(40, 6);
  });

  it('sides may differ; differences that do not agree along the back are said', () => {
    const sided = backFromFewNumbers({
      ...NUMBERS,
      slopesDeg: { behindBlade: { left: 47, right: 45 }, middle: 32, lastRib: 24 },
    });
    expect(sided.asymmetry.left!.slopeDeg).toBeCloseTo(2 / 3, 9);
    const far = backFromFewNumbers({
      ...NUMBERS,
      slopesDeg: { behindBlade: { left: 51, right: 45 }, middle: 32, lastRib: 24 },
    });
    expect(far.notes).toContain('6.0, 0.0, 0.0 degrees');
    const built = buildSectionsBack(far);
    expect((built.heightMm(0, 92) + built.heightMm(0, -92)) / 2).toBeCloseTo(built.heightMm(0, 0) - 75, 3);
  });

  it('refuses both or neither of dip and sag, widths that no slope gives, and numbers no back has', () => {
    expect(refused({ ...NUMBERS, toplineDipMm: 30 }).code).toBe('inconsistent');
    const { bearingLineSagMm: _, ...neither } = NUMBERS;
    expect(refused(neither).code).toBe('missing');
    expect(refused({ ...NUMBERS, withersWidth: { widthMm: 400, depthMm: 30 } }).details.field).toBe('withersWidth');
    expect(refused({ ...NUMBERS, usableLengthMm: 50 }).code).toBe('out-of-range');
    expect(refused({ ...NUMBERS, bearingLineSagMm: Number.NaN }).code).toBe('not-a-number');
    expect(refused({ ...NUMBERS, slopesDeg: { ...NUMBERS.slopesDeg, middle: { left: 30, right: 88 } } }).code).toBe(
      'out-of-range',
    );
  });
});
