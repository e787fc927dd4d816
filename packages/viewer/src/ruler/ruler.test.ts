import { describe, expect, test } from 'vitest';
import { areaPath, dataRuns, linePath, missingRuns, stepPath, valueAt } from './curve-path.ts';
import { createRulerScale, niceCeiling, rulerTicks, spreadLabels } from './ruler-scale.ts';

describe('ruler scale', () => {
  const scale = createRulerScale([-30, 530, 430], 20, 920);

  test('holds every place and maps there and back', () => {
    expect(scale.fromMm).toBe(-100);
    expect(scale.toMm).toBe(550);
    for (const x of [-100, 0, 123.4, 550]) expect(scale.toMmAt(scale.toPx(x))).toBeCloseTo(x, 9);
    expect(scale.toPx(-100)).toBe(20);
    expect(scale.toPx(550)).toBeCloseTo(920, 9);
  });

  test('stands still while a bar grows within the same 50 mm', () => {
    expect(createRulerScale([-30, 500], 0, 900).toMm).toBe(createRulerScale([-30, 530], 0, 900).toMm);
  });

  test('labels are whole hundreds on a wide page and stand further apart on a narrow one', () => {
    const labels = (px: number): string[] =>
      rulerTicks(createRulerScale([-30, 530, 430], 0, px), 'mm')
        .map((t) => t.label)
        .filter((l) => l !== '');
    expect(labels(700)).toEqual([
      '−100',
      '−50',
      '0',
      '50',
      '100',
      '150',
      '200',
      '250',
      '300',
      '350',
      '400',
      '450',
      '500',
      '550',
    ]);
    expect(labels(340)).toEqual(['−100', '0', '100', '200', '300', '400', '500']);
  });

  test('inch marks fall on inches', () => {
    const marks = rulerTicks(createRulerScale([-30, 530], 0, 900), 'in').filter((t) => t.label !== '');
    expect(marks.length).toBeGreaterThan(8);
    for (const mark of marks) expect(mark.xMm / 25.4).toBeCloseTo(Number(mark.label.replace('−', '-')), 9);
  });

  test('nice ceilings', () => {
    expect([0.3, 1, 1.2, 2.8, 7, 21].map(niceCeiling)).toEqual([0.5, 1, 2, 5, 10, 50]);
  });

  test('labels keep their order and distance', () => {
    const placed = spreadLabels([10, 11, 60, 10.5], 12, 0, 64);
    const sorted = [...placed].sort((a, b) => a - b);
    for (let i = 1; i < sorted.length; i++) expect(sorted[i]! - sorted[i - 1]!).toBeGreaterThanOrEqual(12 - 1e-9);
    expect(placed[0]!).toBeLessThan(placed[3]!);
    expect(placed[3]!).toBeLessThan(placed[1]!);
    expect(Math.max(...placed)).toBeLessThanOrEqual(64);
  });
});

describe('curves', () => {
  const NO = Number.NaN;

  test('runs of data and of no data meet', () => {
    const values = [NO, NO, 1, 2, NO, 3, NO];
    expect(dataRuns(values)).toEqual([
      [2, 3],
      [5, 5],
    ]);
    expect(missingRuns(values)).toEqual([
      [0, 2],
      [3, 5],
      [5, 6],
    ]);
    expect(missingRuns([1, 2])).toEqual([]);
    expect(missingRuns([NO, NO])).toEqual([[0, 1]]);
  });

  test('a line is broken, never drawn through missing data', () => {
    expect(linePath([0, 1, 2, 3], [5, 6, NO, 7])).toBe('M0.00 5.00L1.00 6.00M3.00 7.00');
  });

  test('areas close on their level', () => {
    expect(areaPath([0, 10], [4, 2], 9)).toBe('M0.00 9.00L0.00 4.00L10.00 2.00L10.00 9.00Z');
  });

  test('steps keep the area of their cells', () => {
    const path = stepPath([5, 15, 25], [8, 6, NO], 10);
    expect(path).toBe('M0.00 10.00V8.00H10.00V6.00H20.00V10.00H30.00V10.00Z');
  });

  test('between knots linear, outside and beside holes nothing', () => {
    expect(valueAt([0, 10, 20], [0, 5, NO], 4)).toBeCloseTo(2, 12);
    expect(valueAt([0, 10, 20], [0, 5, NO], 12)).toBeNaN();
    expect(valueAt([0, 10], [0, 5], 11)).toBeNaN();
  });
});
