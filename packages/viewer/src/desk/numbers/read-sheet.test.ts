import { describe, expect, test } from 'vitest';
import { METRIC, SHOP } from '../../look/format.ts';
import { startRecord } from '../record-draft.ts';
import { bothReadings, type Sheet } from './number-fields.ts';
import { deepest, numbersLines } from './numbers-lines.ts';
import { readSheet } from './read-sheet.ts';

const sheet = (texts: Sheet['texts'], more: Partial<Sheet> = {}): Sheet => ({
  texts,
  bySide: false,
  line: 'sag',
  record: startRecord('Heron by hand', 'Flexible ruler and level', '2026-10-12'),
  ...more,
});

const FULL = {
  usableLength: '450',
  withersWidth: '160',
  withersDepth: '75',
  slopeFront: '44',
  slopeWaist: '34',
  slopeRear: '26',
  sag: '25',
} as const;

describe('a sheet of few numbers', () => {
  test('an empty sheet is drawn as an average back and says that every needed number is missing', () => {
    const read = readSheet(sheet({}), METRIC);
    expect(read.missing).toEqual(['usableLength', 'withersWidth', 'slopeFront', 'slopeWaist', 'slopeRear', 'sag']);
    expect(read.faults).toEqual({});
    expect(read.back?.document.usableLengthMm).toBe(450);
    expect(read.isGiven('usableLength')).toBe(false);
  });

  test('a full sheet gives the back of its numbers: length, slopes, sag', () => {
    const read = readSheet(sheet(FULL), METRIC);
    expect(read.missing).toEqual([]);
    const { document } = read.back!;
    expect(document.slopeDeg.map((row) => row[2])).toEqual(expect.arrayContaining([44, 34, 26]));
    const { bearing, lengthMm } = numbersLines(document);
    const low = deepest(bearing, 0, lengthMm);
    expect(lengthMm).toBe(450);
    expect(low.stickMm - low.heightMm).toBeCloseTo(25, 0);
    expect(low.at).toBeGreaterThan(200);
    expect(low.at).toBeLessThan(250);
  });

  test('a bare number is in the unit of the page, a written unit stays', () => {
    const inches = readSheet(
      sheet({ ...FULL, usableLength: '17 3/4', withersWidth: '160 mm', withersDepth: '3', sag: '1' }),
      SHOP,
    );
    expect(inches.values.usableLength).toBeCloseTo(17.75 * 25.4, 9);
    expect(inches.values.withersWidth).toBe(160);
    expect(inches.back?.document.usableLengthMm).toBeCloseTo(17.75 * 25.4, 9);
    expect(readSheet(sheet({ horseWeight: '1000' }), SHOP).values.horseWeight).toBeCloseTo(453.59237, 6);
    expect(readSheet(sheet({ withersHeight: '15.2 hands' }), METRIC).values.withersHeight).toBeCloseTo(62 * 25.4, 9);
  });

  test.each([
    ['usableLength', 'seventeen'],
    ['usableLength', '45'],
    ['slopeWaist', '34 kPa'],
    ['sag', '900'],
    ['withersWidth', '20'],
    ['withersHeight', '9000'],
    ['horseWeight', '-3'],
  ] as const)('%s "%s" is refused at its own field', (key, text) => {
    const read = readSheet(sheet({ ...FULL, [key]: text }), METRIC);
    expect(Object.keys(read.faults)).toEqual([key]);
    expect(read.faults[key]!.expected.length).toBeGreaterThan(3);
  });

  test('numbers that do not go together are said at the withers, and no back is made', () => {
    const read = readSheet(sheet({ ...FULL, withersWidth: '420', withersDepth: '25', slopeFront: '60' }), METRIC);
    expect(read.back).toBeNull();
    expect(read.faults.withersWidth!.code).toBe('inconsistent');
  });

  test('sides apart: the needed numbers are six slopes, and their mean difference is carried', () => {
    const read = readSheet(
      sheet(
        {
          ...FULL,
          'slopeFront.left': '45',
          'slopeFront.right': '43',
          'slopeWaist.left': '36',
          'slopeWaist.right': '34',
          'slopeRear.left': '28',
          'slopeRear.right': '26',
        },
        { bySide: true },
      ),
      METRIC,
    );
    expect(read.missing).toEqual([]);
    expect(read.back!.document.asymmetry.left!.slopeDeg).toBeCloseTo(2, 9);
  });

  test('22-1/4 is put back as its two readings', () => {
    const read = readSheet(sheet({ sag: '22-1/4' }), METRIC);
    expect(read.faults.sag!.code).toBe('ambiguous');
    expect(bothReadings('22-1/4', read.faults.sag!)).toEqual(['22 1/4 in', '21 3/4 in']);
  });
});
