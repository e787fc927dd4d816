import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { KPA_PER_PSI, N_PER_POUND_FORCE } from './constants.ts';
import { formatLength, splitInches } from './format-length.ts';
import { formatAngle, formatForce, formatMass, formatPressure } from './format-quantity.ts';
import { readShopNumber } from './read-shop-number.ts';

describe('constants', () => {
  // Published values: NIST Special Publication 811, appendix B (from memory).
  it('agree with published conversions', () => {
    expect(KPA_PER_PSI).toBeCloseTo(6.894757293168361, 12);
    expect(N_PER_POUND_FORCE).toBe(4.4482216152605);
  });
});

describe('display of lengths', () => {
  it.each([
    [560, 'mm', '560.0 mm'],
    [-0.04, 'mm', '0.0 mm'],
    [560, 'in', '22 1/16 in (-0.4 mm)'],
    [565.15, 'in', '22 1/4 in'],
    [7.9375, 'in', '5/16 in'],
    [-7.9375, 'in', '-5/16 in'],
    [25.4, 'in', '1 in'],
    [25.3, 'in', '1 in (-0.1 mm)'],
    [0, 'in', '0 in'],
    [-0.3, 'in', '0 in (-0.3 mm)'],
    [560.6875, 'in', '22 1/16 in (+0.3 mm)'],
    [Number.NaN, 'in', 'no data'],
    [Number.POSITIVE_INFINITY, 'mm', 'no data'],
  ] as const)('%d in %s', (lengthMm, unit, text) => {
    expect(formatLength(lengthMm, unit)).toBe(text);
  });

  it('parts and remainder give the length back, the fraction is reduced (seed 413)', () => {
    const length = fc.double({ min: -2000, max: 2000, noNaN: true });
    fc.assert(
      fc.property(length, fc.constantFrom(8, 16, 32), (lengthMm, divisions) => {
        const parts = splitInches(lengthMm, divisions);
        const marks = parts.sign * (parts.whole + parts.numerator / parts.denominator) * 25.4;
        expect(Math.abs(marks + parts.remainderMm - lengthMm)).toBeLessThan(1e-9);
        expect(Math.abs(parts.remainderMm)).toBeLessThanOrEqual(25.4 / divisions / 2 + 1e-9);
        expect(parts.numerator).toBeLessThan(parts.denominator);
        expect(parts.numerator === 0 ? 1 : parts.numerator % 2).toBe(1);
      }),
      { seed: 413 },
    );
  });

  it('what is shown can be typed in again, within the remainder (seed 414)', () => {
    fc.assert(
      fc.property(fc.double({ min: -900, max: 900, noNaN: true }), (lengthMm) => {
        const shown = formatLength(lengthMm, 'in').replace(/ \(.*/, '');
        const again = readShopNumber(shown, { defaultUnit: 'mm' });
        expect(Math.abs((again?.value ?? Number.NaN) - lengthMm)).toBeLessThanOrEqual(25.4 / 32 + 1e-9);
      }),
      { seed: 414 },
    );
  });
});

describe('display of other quantities', () => {
  it('in both systems', () => {
    expect(formatPressure(13.789514586336722, 'psi')).toBe('2.00 psi');
    expect(formatPressure(13.789514586336722, 'kPa')).toBe('13.8 kPa');
    expect(formatMass(104.3262451, 'lb')).toBe('230 lb');
    expect(formatMass(80, 'kg')).toBe('80.0 kg');
    expect(formatForce(-0.2)).toBe('0 N');
    expect(formatAngle(43)).toBe('43.0\u00b0');
    expect(formatPressure(Number.NaN, 'psi')).toBe('no data');
  });
});
