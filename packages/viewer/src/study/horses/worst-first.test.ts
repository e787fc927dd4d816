import type { FitResult } from '@barwright/geometry';
import { describe, expect, test } from 'vitest';
import type { HorseRow } from './horses-service.ts';
import { lengthwiseMm, worstFirst } from './worst-first.ts';

function row(
  backId: number,
  left: number | null,
  right: number | null,
  peak: number,
  area: number,
  status = 'settled',
): HorseRow {
  const result = {
    status,
    mismatch: { lengthwiseLeftMm: left, lengthwiseRightMm: right, stations: [] },
    contact: { areaCm2: area, peakPressureKPa: peak },
  } as unknown as FitResult;
  return { backId, result, refusal: null };
}

const refused: HorseRow = {
  backId: 9,
  result: null,
  refusal: { code: 'missing', expected: 'a', remedy: 'b' } as never,
};
const ids = (rows: readonly HorseRow[]): number[] => rows.map(({ backId }) => backId);

describe('worst first', () => {
  const rows = [row(1, 3, -2, 20, 500), row(2, 1, -8, 30, 400), row(3, 5, 5, 10, 450)];

  test('by lengthwise mismatch: the larger side, rocking counts as much as bridging', () => {
    expect(lengthwiseMm(rows[1]!.result!)).toBe(-8);
    expect(ids(worstFirst(rows, 'lengthwise'))).toEqual([2, 3, 1]);
  });

  test('by peak the highest, by area the smallest', () => {
    expect(ids(worstFirst(rows, 'peak'))).toEqual([2, 1, 3]);
    expect(ids(worstFirst(rows, 'area'))).toEqual([2, 3, 1]);
  });

  test('without a figure, unsettled or refused: on top, never sorted in as if it were a nought', () => {
    const odd = [...rows, row(4, null, null, 5, 900), row(5, 0, 0, 1, 999, 'no contact'), refused];
    expect(ids(worstFirst(odd, 'lengthwise')).slice(0, 3).sort()).toEqual([4, 5, 9]);
    expect(ids(worstFirst(odd, 'area'))).toEqual([5, 9, 2, 3, 1, 4]);
  });
});
