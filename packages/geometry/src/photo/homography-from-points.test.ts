import { describe, expect, it } from 'vitest';
import { InputError, type Random, seededRandom } from '../numeric/index.ts';
import type { PixelPoint } from './grey-image.ts';
import { homographyFromPoints } from './homography-from-points.ts';
import { through } from './matrix3.ts';
import { paperUncertainty } from './paper-uncertainty.ts';

type Point = readonly [number, number];
const SQUARE: readonly Point[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
];

/** Unit square to a quadrilateral in closed form (Heckbert 1989, Fundamentals of Texture Mapping, from memory). */
function squareToQuad([p0, p1, p2, p3]: readonly Point[]): number[] {
  const [[x0, y0], [x1, y1], [x2, y2], [x3, y3]] = [p0!, p1!, p2!, p3!];
  const [dx1, dx2, sx] = [x1 - x2, x3 - x2, x0 - x1 + x2 - x3];
  const [dy1, dy2, sy] = [y1 - y2, y3 - y2, y0 - y1 + y2 - y3];
  const den = dx1 * dy2 - dx2 * dy1;
  const g = (sx * dy2 - dx2 * sy) / den;
  const h = (dx1 * sy - sx * dy1) / den;
  return [x1 - x0 + g * x1, x3 - x0 + h * x3, x0, y1 - y0 + g * y1, y3 - y0 + h * y3, y0, g, h, 1];
}

/** A convex quadrilateral some hundred pixels across, well away from flat. */
const anyQuad = (random: Random): Point[] =>
  SQUARE.map(([x, y]): Point => [900 * x + 300 * (random() - 0.5) + 400, 700 * y + 250 * (random() - 0.5) + 300]);

const codeOf = (make: () => unknown): string => {
  try {
    make();
  } catch (error) {
    if (error instanceof InputError) return `${error.code}: ${error.details.got}`;
    throw error;
  }
  return 'none';
};

describe('homography from four points, against the closed form of Heckbert 1989 (from memory)', () => {
  it('60 quadrilaterals, seed 11: every place within 1e-8 px, and back', () => {
    const random = seededRandom(11);
    for (let n = 0; n < 60; n++) {
      const quad = anyQuad(random);
      const h = homographyFromPoints(quad, SQUARE);
      const known = squareToQuad(quad);
      for (let k = 0; k < 10; k++) {
        const p: Point = [2 * random() - 0.5, 2 * random() - 0.5];
        const [x, y] = through(known, p);
        if (known[6]! * p[0] + known[7]! * p[1] + 1 < 0.2) continue;
        const own = through(h.paperToImage, p);
        expect(Math.hypot(own[0] - x, own[1] - y)).toBeLessThan(1e-8);
        const back = through(h.imageToPaper, [x, y]);
        expect(Math.hypot(back[0] - p[0], back[1] - p[1])).toBeLessThan(1e-9);
      }
      expect(Math.max(...h.residualsPx)).toBeLessThan(1e-8);
    }
  });

  it('moving, turning and enlarging the photo moves the map along (seed 12)', () => {
    const random = seededRandom(12);
    for (let n = 0; n < 20; n++) {
      const quad = anyQuad(random);
      const [c, s, k] = [Math.cos(7 * random()), Math.sin(7 * random()), 0.3 + 3 * random()];
      const move = ([x, y]: Point): PixelPoint => [k * (c * x - s * y) + 5000, k * (s * x + c * y) - 3000];
      const a = homographyFromPoints(quad, SQUARE);
      const b = homographyFromPoints(quad.map(move), SQUARE);
      const p: Point = [random(), random()];
      const [expected, own] = [move(through(a.paperToImage, p)), through(b.paperToImage, p)];
      expect(Math.hypot(own[0] - expected[0], own[1] - expected[1])).toBeLessThan(1e-6);
    }
  });
});

describe('homography from more points', () => {
  const grid: Point[] = Array.from({ length: 25 }, (_, i): Point => [40 * (i % 5), 30 * Math.floor(i / 5)]);
  const known = squareToQuad([
    [100, 120],
    [1300, 60],
    [1200, 900],
    [160, 1000],
  ]);
  const seen = grid.map(([x, y]): PixelPoint => through(known, [x / 160, y / 120]));
  const jitter = (random: Random): number => (random() + random() + random() + random() - 2) * Math.sqrt(3);

  it('exact points give the exact map; their residuals are zero', () => {
    const h = homographyFromPoints(seen, grid);
    expect(Math.max(...h.residualsPx)).toBeLessThan(1e-8);
    expect(Math.max(...h.residualsMm)).toBeLessThan(1e-8);
  });

  it('least squares: the cost rises for every small change of the map (seed 21)', () => {
    const random = seededRandom(21);
    const noisy = seen.map(([x, y]): PixelPoint => [x + jitter(random), y + jitter(random)]);
    const h = homographyFromPoints(noisy, grid);
    const cost = (m: readonly number[]): number =>
      grid.reduce((sum, p, i) => {
        const [x, y] = through(m, p);
        return sum + (x - noisy[i]![0]) ** 2 + (y - noisy[i]![1]) ** 2;
      }, 0);
    const least = cost(h.paperToImage);
    expect(least).toBeCloseTo(
      h.residualsPx.reduce((sum, r) => sum + r * r, 0),
      6,
    );
    for (let n = 0; n < 200; n++) {
      const changed = h.paperToImage.map((value) => value * (1 + 2e-4 * (random() - 0.5)));
      expect(cost(changed)).toBeGreaterThan(least);
    }
  });

  it('stated error of a place agrees with 600 repeated clicks within a tenth, inside and beyond the corners (seed 22)', () => {
    const random = seededRandom(22);
    for (const places of [[0, 4, 24, 20], grid.map((_, i) => i)]) {
      const [image, paper] = [places.map((i) => seen[i]!), places.map((i) => grid[i]!)];
      const exact = homographyFromPoints(image, paper);
      for (const at of [
        [80, 60],
        [150, 10],
        [200, 140],
      ] as const) {
        const pixel = through(known, [at[0] / 160, at[1] / 120]);
        const stated = paperUncertainty(exact, pixel, 1);
        let [xx, xy, yy] = [0, 0, 0];
        const rounds = 600;
        for (let n = 0; n < rounds; n++) {
          const moved = image.map(([x, y]): PixelPoint => [x + jitter(random), y + jitter(random)]);
          const [x, y] = through(homographyFromPoints(moved, paper).imageToPaper, pixel);
          xx += (x - at[0]) ** 2 / rounds;
          xy += ((x - at[0]) * (y - at[1])) / rounds;
          yy += (y - at[1]) ** 2 / rounds;
        }
        const measured = Math.sqrt((xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy));
        expect(stated.cornersMm / measured).toBeGreaterThan(0.9);
        expect(stated.cornersMm / measured).toBeLessThan(1.1);
      }
    }
  });
});

describe('points that fix no plane are refused by what is wrong with them', () => {
  const good: PixelPoint[] = [
    [100, 100],
    [900, 120],
    [880, 700],
    [110, 690],
  ];
  const swap = (i: number, j: number): PixelPoint[] =>
    good.map((p, k) => (k === i ? good[j]! : k === j ? good[i]! : p));
  const withLast = (p: PixelPoint): PixelPoint[] => [...good.slice(0, 3), p];

  it.each([
    ['three corners', good.slice(0, 3), 'missing: 3 points'],
    ['three in a line', withLast([490, 410]), 'degenerate: points 1, 3 and 4 in a line in the photo'],
    ['nearly in a line', withLast([495, 418]), 'degenerate: points 1, 3 and 4 in a line in the photo'],
    ['the same corner twice', withLast([880, 700]), 'degenerate: points 1, 3 and 4 in a line in the photo'],
    ['a corner inside', withLast([700, 250]), 'degenerate: a corner inside the triangle of the three others'],
    ['crossed order', swap(2, 3), 'inconsistent: corners in crossed order'],
    ['crossed order, other pair', swap(0, 1), 'inconsistent: corners in crossed order'],
    ['not a number', withLast([Number.NaN, 4]), 'not-a-number: a point without numbers'],
  ])('%s', (_, image, expected) => {
    expect(codeOf(() => homographyFromPoints(image, SQUARE.slice(0, image.length)))).toBe(expected);
  });

  it('many points on one line, and all but one on it', () => {
    const line = Array.from({ length: 9 }, (_, i): Point => [10 * i, 4 * i]);
    const image = line.map(([x, y]): PixelPoint => [3 * x + 20, 5 * y + 30]);
    expect(codeOf(() => homographyFromPoints(image, line))).toContain('degenerate');
    expect(codeOf(() => homographyFromPoints([...image, [50, 400]], [...line, [5, 60]] as readonly Point[]))).toContain(
      'degenerate',
    );
  });

  it('good corners are not refused', () => {
    expect(codeOf(() => homographyFromPoints(good, SQUARE))).toBe('none');
  });
});
