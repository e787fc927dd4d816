import { describe, expect, test } from 'vitest';
import { seededRandom } from '../numeric/index.ts';
import { type Chain, levelLines, regionRings, type ValueGrid } from './pressure-map-contours.ts';

function gridOf(rows: number, columns: number, value: (r: number, c: number) => number): ValueGrid {
  const values = Float64Array.from({ length: rows * columns }, (_, i) => value(Math.floor(i / columns), i % columns));
  return { rows, columns, values };
}

function pointsOf({ columns }: ValueGrid, chain: Chain): [number, number][] {
  const place = (node: number): [number, number] => [node % columns, Math.floor(node / columns)];
  return chain.map(({ nodeA, nodeB, share }) => {
    const [a, b] = [place(nodeA), place(nodeB)];
    return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
  });
}

/** Signed area by the shoelace formula: holes count against what they lie in. */
function area(grid: ValueGrid, chains: readonly Chain[]): number {
  let sum = 0;
  for (const chain of chains) {
    const points = pointsOf(grid, chain);
    for (let i = 0; i < points.length; i++) {
      const [x0, y0] = points[i]!;
      const [x1, y1] = points[(i + 1) % points.length]!;
      sum += (x0 * y1 - x1 * y0) / 2;
    }
  }
  return Math.abs(sum);
}

describe('regions at or above a level', () => {
  test('a cone gives a disc of the closed-form area, halving the step quarters the error', () => {
    const errors = [21, 41, 81].map((n) => {
      const step = 20 / (n - 1);
      const grid = gridOf(n, n, (r, c) => 10 - Math.hypot(r * step - 10, c * step - 10));
      return Math.abs(area(grid, regionRings(grid, 3)) * step * step - Math.PI * 49);
    });
    expect(errors[0]!).toBeLessThan(1.5);
    expect(errors[1]!).toBeLessThan(errors[0]! / 3);
    expect(errors[2]!).toBeLessThan(errors[1]! / 3);
  });

  test('a plane cuts a rectangle at the very place, and the border closes the ring', () => {
    const grid = gridOf(4, 11, (_, c) => c);
    expect(area(grid, regionRings(grid, 2.5))).toBeCloseTo(3 * 7.5, 12);
    expect(area(grid, regionRings(grid, -1))).toBeCloseTo(30, 12);
    expect(regionRings(grid, 11)).toEqual([]);
  });

  test('a ring-shaped ridge has a hole, and every ring comes back to where it began', () => {
    const grid = gridOf(61, 61, (r, c) => -Math.abs(Math.hypot(r - 30, c - 30) - 20));
    const rings = regionRings(grid, -5);
    expect(rings).toHaveLength(2);
    expect(area(grid, rings)).toBeCloseTo(Math.PI * (625 - 225), -1);
    for (const ring of rings) expect(ring.at(-1)).toEqual(ring[0]);
  });

  test('areas of random grids fall with the level, from all to none (seed 77)', () => {
    const random = seededRandom(77);
    for (let k = 0; k < 40; k++) {
      const grid = gridOf(9, 7, () => random());
      const areas = [-1, 0.1, 0.3, 0.5, 0.7, 0.9, 2].map((level) => area(grid, regionRings(grid, level)));
      expect(areas[0]).toBeCloseTo(48, 9);
      expect(areas.at(-1)).toBe(0);
      for (let i = 1; i < areas.length; i++) expect(areas[i]!).toBeLessThanOrEqual(areas[i - 1]! + 1e-9);
    }
  });
});

describe('lines along a level', () => {
  test('every place on a line has the level by interpolation, and places without value are kept clear of', () => {
    const grid = gridOf(30, 30, (r, c) =>
      r > 12 && r < 17 && c > 12 && c < 17 ? Number.NaN : Math.sin(r / 4) + c / 9,
    );
    const lines = levelLines(grid, 1.2);
    expect(lines.length).toBeGreaterThan(0);
    for (const line of lines) {
      for (const { nodeA, nodeB, share } of line) {
        const value = grid.values[nodeA]! + share * (grid.values[nodeB]! - grid.values[nodeA]!);
        expect(value).toBeCloseTo(1.2, 12);
      }
    }
  });

  test('a closed line ends where it begins; an open one ends on the border', () => {
    const cone = gridOf(21, 21, (r, c) => 10 - Math.hypot(r - 10, c - 10));
    const [closed] = levelLines(cone, 3);
    expect(closed!.at(-1)).toEqual(closed![0]);
    const plane = gridOf(5, 9, (_, c) => c);
    const [open] = levelLines(plane, 3.5);
    const points = pointsOf(plane, open!);
    expect([points[0]![1], points.at(-1)![1]].sort()).toEqual([0, 4]);
  });
});
