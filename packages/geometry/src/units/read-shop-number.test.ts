import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../numeric/input-error.ts';
import { readQuantity } from './read-quantity.ts';
import { readShopNumber } from './read-shop-number.ts';
import type { UnitName } from './unit-table.ts';

const read = (text: string, defaultUnit: UnitName = 'mm') => readShopNumber(text, { defaultUnit, field: 'length' });

function refusal(run: () => unknown): InputError {
  try {
    run();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}

describe('shop numbers in a length field, mm', () => {
  // Worked by hand from 25.4 mm to the inch and 4 inches to the hand.
  const cases: [string, number][] = [
    ['560', 560],
    ['560 mm', 560],
    ['560mm', 560],
    ['56 cm', 560],
    ['1.2 m', 1200],
    ['-30 mm', -30],
    ['- 30', -30],
    ['+30', 30],
    ['\u221230 mm', -30],
    ['.5 in', 12.7],
    ['1e2', 100],
    ['22 1/4', 565.15],
    ['22-1/4"', 565.15],
    ['22-1/4 in', 565.15],
    ['22\u20131/4\u2033', 565.15],
    ['22\u00bc', 565.15],
    ['22 \u00bc in', 565.15],
    ['22-\u00bc"', 565.15],
    ['-22 1/4 in', -565.15],
    ['6 1/2 in', 165.1],
    ['6\u00a01/2\u201d', 165.1],
    ['5/16', 7.9375],
    ['5\u204416 in', 7.9375],
    ['\u215e', 22.225],
    ['\u215d\u2033', 15.875],
    ['14.2 hands', 58 * 25.4],
    ['14.2 hh', 58 * 25.4],
    ['14 hands', 56 * 25.4],
    ['14.0 Hands', 56 * 25.4],
    [`5' 6"`, 66 * 25.4],
    [`5'6"`, 66 * 25.4],
    [`5' 6 1/2"`, 66.5 * 25.4],
    ['5 ft 6 in', 66 * 25.4],
    [`5'`, 60 * 25.4],
    ['1/2 ft', 152.4],
  ];
  it.each(cases)('%s', (text, expected) => {
    const result = read(text);
    expect(result?.kind).toBe('length');
    expect(result?.value).toBeCloseTo(expected, 10);
  });

  it('says where the unit came from', () => {
    expect(read('560')).toEqual({ value: 560, kind: 'length', unit: 'mm', unitFrom: 'default' });
    expect(read('1/2')).toEqual({ value: 12.7, kind: 'length', unit: 'in', unitFrom: 'fraction' });
    expect(read('1/2 cm')).toEqual({ value: 5, kind: 'length', unit: 'cm', unitFrom: 'written' });
    expect(read('560', 'in')?.value).toBeCloseTo(14224, 9);
  });
});

describe('other kinds', () => {
  it.each<[string, UnitName, string, number]>([
    ['45 deg', 'deg', 'angle', 45],
    ['45\u00b0', 'deg', 'angle', 45],
    ['45', 'deg', 'angle', 45],
    ['1/2', 'deg', 'angle', 0.5],
    ['3.141592653589793 rad', 'deg', 'angle', 180],
    ['2 psi', 'kPa', 'pressure', 13.789514586336722],
    ['13.8 kPa', 'kPa', 'pressure', 13.8],
    ['230 lb', 'kg', 'mass', 104.3262451],
    ['104 kg', 'kg', 'mass', 104],
    ['900 N', 'N', 'force', 900],
    ['1 lbf', 'N', 'force', 4.4482216152605],
    ['20 \u00b0C', 'degC', 'temperature', 20],
    ['68 degF', 'degC', 'temperature', 20],
    ['45 %', '%', 'number', 45],
    ['45', '%', 'number', 45],
    ['1 1/2', '', 'number', 1.5],
  ])('%s', (text, unit, kind, expected) => {
    const result = read(text, unit);
    expect(result?.kind).toBe(kind);
    expect(result?.value).toBeCloseTo(expected, 10);
  });
});

describe('what is no shop number', () => {
  it.each([
    '',
    ' ',
    'seatLength',
    'seatLength + 6.5 in',
    '22 - 1/4',
    '22-5/4',
    '2 x',
    '--3',
    '3(4)',
    'NaN',
    'Infinity',
    '0x10',
    '1_000',
    '\uff11\uff12',
    '1/2/3',
    '10 mm mm',
    '14.2.1 hands',
    '2^3',
    'max(1,5)',
  ])('%j is left to the expression reader', (text) => {
    expect(read(text)).toBeNull();
  });
});

describe('refused with a reason', () => {
  const cases: [string, string, RegExp][] = [
    ['22-1/4', 'ambiguous', /"22 1\/4 in" if you mean 22\.25 in, or "21\.75 in"/],
    ['22 -1/4"', 'ambiguous', /21\.75/],
    ['22- 1/4', 'ambiguous', /21\.75/],
    ['-22-1/4', 'ambiguous', /"-22\.25 in" if the hyphen is a minus/],
    ['560-1/2 mm', 'ambiguous', /560\.5 mm/],
    ['1,5', 'syntax', /1\.5/],
    ['22,5 mm', 'syntax', /22\.5 mm/],
    ['22 5/4', 'syntax', /fraction/],
    ['5/0', 'not-a-number', /finite/],
    ['1e999', 'not-a-number', /finite/],
    ['14.5 hands', 'out-of-range', /14 hands 2 inches/],
    ['14.25 hands', 'out-of-range', /0 to 3 inches/],
    ['5/16 furlong', 'wrong-unit', /mm, cm/],
    ['1'.repeat(201), 'too-long', /200/],
    [`1.${'0'.repeat(100_000)}x`, 'too-long', /200/],
    [`${' '.repeat(100_000)}1`, 'too-long', /200/],
    [`1${'-'.repeat(100_000)}`, 'too-long', /200/],
  ];
  it.each(cases.map((row) => [row[0].slice(0, 24), ...row] as const))('%j', (_, text, code, message) => {
    const error = refusal(() => read(text));
    expect(error.code).toBe(code);
    expect(error.message).toMatch(message);
    expect(error.details.field).toBe('length');
  });
});

describe('properties', () => {
  it('a sixteenth written three ways reads the same (seed 411)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 99 }), fc.integer({ min: 1, max: 15 }), (whole, sixteenths) => {
        const value = (whole + sixteenths / 16) * 25.4;
        expect(read(`${whole} ${sixteenths}/16`)?.value).toBeCloseTo(value, 9);
        expect(read(`${whole}-${sixteenths}/16"`)?.value).toBeCloseTo(value, 9);
        expect(read(`${whole + sixteenths / 16} in`)?.value).toBeCloseTo(value, 9);
      }),
      { seed: 411 },
    );
  });

  it('any text is read as finite, left alone, or refused by a typed error (seed 412)', () => {
    const piece = fc.constantFrom(
      ...'0123456789.,-+/ \'"\u00bd\u2212'.split(''),
      'mm',
      'in',
      'hands',
      'e9',
      'ft',
      '\u00b0',
    );
    const text = fc.oneof(
      fc.string({ unit: 'binary' }),
      fc.array(piece, { maxLength: 12 }).map((parts) => parts.join('')),
    );
    fc.assert(
      fc.property(text, (candidate) => {
        try {
          const result = read(candidate);
          expect(result === null || Number.isFinite(result.value)).toBe(true);
        } catch (error) {
          expect(error).toBeInstanceOf(InputError);
        }
      }),
      { seed: 412, numRuns: 3000 },
    );
  });
});

describe('readQuantity', () => {
  it('takes numbers and shop numbers of the right kind', () => {
    expect(readQuantity(20, { field: 'pad', unit: 'mm' })).toBe(20);
    expect(readQuantity('3/4 in', { field: 'pad', unit: 'mm' })).toBeCloseTo(19.05, 10);
    expect(readQuantity(1, { field: 'limit', unit: 'psi' })).toBeCloseTo(6.894757293168361, 12);
  });

  it.each<[unknown, string]>([
    ['20 kg', 'wrong-unit'],
    ['pad + 1', 'syntax'],
    [Number.NaN, 'not-a-number'],
    [null, 'wrong-type'],
    [[20], 'wrong-type'],
  ])('refuses %j', (input, code) => {
    expect(refusal(() => readQuantity(input, { field: 'pad', unit: 'mm' })).code).toBe(code);
  });
});
