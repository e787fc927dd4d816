import { describe, expect, test } from 'vitest';
import { METRIC, SHOP } from '../../look/format.ts';
import { chartUnits, typedMm } from './in-units.ts';

describe('typed lengths without a unit', () => {
  test.each([
    ['5', 5],
    ['5.5', 5.5],
    ['5,5', 5.5],
    ['−2', -2],
    ['-2', -2],
  ])('%s on the metric page is %d mm', (text, mm) => {
    expect(typedMm(text, METRIC)).toBe(mm);
  });

  test.each([
    ['1', 25.4],
    ['3/16', 4.7625],
    ['1 1/2', 38.1],
    ['-1/4', -6.35],
    ['0.2', 5.08],
  ])('%s on the page in inches is %d mm', (text, mm) => {
    expect(typedMm(text, SHOP)).toBeCloseTo(mm, 12);
  });

  test.each(['', ' ', 'five', '1/', '--3', '5 mm'])('"%s" is no number', (text) => {
    expect(typedMm(text, METRIC)).toBeNaN();
  });
});

test('charts show what the page shows: 25.4 mm is 1 in, 6.894757 kPa is 1 psi, nothing known is no number', () => {
  const shop = chartUnits(SHOP);
  expect(shop.gap(25.4)).toBe(1);
  expect(shop.pressure(6.894757293168361)).toBeCloseTo(1, 12);
  expect([shop.gapUnit, shop.pressureUnit]).toEqual(['in', 'psi']);
  const metric = chartUnits(METRIC);
  expect(metric.gap(-3.9)).toBe(-3.9);
  expect(metric.gap(null)).toBeNaN();
});
