import { clearanceColour, type MapGrid, srgbToOklab } from '@barwright/geometry';
import { describe, expect, test } from 'vitest';
import { differenceScale } from './difference-scale.ts';
import { differenceGrid, type MappedBar, mapValue, through } from './map-places.ts';

/** A level bar whose values are a plane over place and t: exact under linear reading. */
function bar(lengthMm: number, frontMm: number, value: (along: number, t: number) => number): MappedBar {
  const [rows, columns] = [22, 9];
  const grid: MapGrid = {
    side: 'right',
    rows,
    columns,
    acrossMm: new Float64Array(rows * columns),
    alongMm: new Float64Array(rows * columns),
    values: new Float64Array(rows * columns),
  };
  const middles = (n: number, i: number): number => (i === 0 ? 0 : i === n + 1 ? 1 : (i - 0.5) / n);
  for (let i = 0; i < rows; i++)
    for (let j = 0; j < columns; j++) {
      const along = lengthMm * middles(rows - 2, i);
      grid.alongMm[i * columns + j] = along;
      grid.values[i * columns + j] = value(along, -1 + 2 * middles(columns - 2, j));
    }
  const profile = {
    bMm: Float64Array.of(0.5, lengthMm - 0.5),
    xMm: Float64Array.of(frontMm + 0.5, frontMm + lengthMm - 0.5),
  };
  return { grid, profile };
}

describe('places of two bars', () => {
  test('a map is read linearly, and not beyond its ends', () => {
    const { grid } = bar(500, -30, (along, t) => 3 + 0.02 * along - 4 * t);
    for (const [along, t] of [
      [0, -1],
      [500, 1],
      [123.4, 0.31],
      [487, -0.97],
    ] as const)
      expect(mapValue(grid, along, t)).toBeCloseTo(3 + 0.02 * along - 4 * t, 9);
    expect(mapValue(grid, 501, 0)).toBeNaN();
    expect(mapValue(grid, -1, 0)).toBeNaN();
    expect(through([0, 10], [5, 25], 12)).toBeCloseTo(29, 12);
  });

  test('by mm behind the blade, what depends on the horse alone cancels out; beyond the shorter bar there is nothing', () => {
    // Both read the same value at the same place of the horse.
    const long = bar(600, -30, (along) => 0.1 * (along - 30));
    const short = bar(500, -10, (along) => 0.1 * (along - 10));
    const { grid } = long;
    const by = differenceGrid(long, short, 'mm');
    for (let i = 0; i < grid.rows; i++) {
      const x = grid.alongMm[i * grid.columns]! - 30;
      const value = by.values[i * grid.columns + 3]!;
      if (x < -10.1 || x > 490.1) expect(value).toBeNaN();
      else expect(value).toBeCloseTo(0, 9);
    }
  });

  test('by share of the bar, what depends on the share alone cancels out', () => {
    const long = bar(600, -30, (along, t) => 7 * (along / 600) + t);
    const short = bar(500, -10, (along, t) => 7 * (along / 500) + t);
    for (const value of differenceGrid(long, short, 'share').values) expect(value).toBeCloseTo(0, 9);
    const byMm = [...differenceGrid(long, short, 'mm').values].filter((v) => !Number.isNaN(v));
    expect(Math.max(...byMm.map(Math.abs))).toBeGreaterThan(0.1);
  });

  test('same places, other values: second less first', () => {
    const first = bar(500, -30, () => 4);
    const second = bar(500, -30, (_, t) => 6.5 + t);
    const { values } = differenceGrid(first, second, 'mm');
    expect(values[4 * 9 + 4]).toBeCloseTo(2.5, 9);
    expect(values[4 * 9 + 8]).toBeCloseTo(3.5, 9);
  });

  test('missing data on either side stays missing', () => {
    const first = bar(500, -30, () => 4);
    const hole = bar(500, -30, (along) => (along > 300 ? Number.NaN : 4));
    for (const [a, b] of [
      [first, hole],
      [hole, first],
    ] as const) {
      const { values, alongMm } = differenceGrid(a, b, 'mm');
      expect(values[alongMm.findIndex((along) => along > 340)]).toBeNaN();
      expect(values[alongMm.findIndex((along) => along > 200)]).toBeCloseTo(0, 9);
    }
  });
});

describe('scale of differences', () => {
  test('clearance keeps the arms of the clearance map; the band about nothing is the lightest, ends are darker', () => {
    for (const of of ['clearance', 'pressure'] as const) {
      const scale = differenceScale(of, 10);
      const light = (hex: string): number =>
        srgbToOklab([1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255) as never)[0];
      const steps = Array.from({ length: scale.fillLevels.length + 1 }, (_, i) => light(scale.fill(i)));
      expect(steps.indexOf(Math.max(...steps))).toBe(10);
      for (let i = 1; i < steps.length; i++) expect(Math.sign(steps[i]! - steps[i - 1]!)).toBe(i <= 10 ? 1 : -1);
    }
    const [r] = clearanceColour(10, { squeezeMm: 10, clearMm: 10 });
    expect(Number.parseInt(differenceScale('clearance', 10).fill(20).slice(1, 3), 16) / 255).toBeCloseTo(r, 1);
  });
});
