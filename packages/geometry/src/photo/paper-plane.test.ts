import { describe, expect, it } from 'vitest';
import { type SheetPoint, sheetTile } from '../drawing/index.ts';
import { InputError, type Random, seededRandom } from '../numeric/index.ts';
import { curveToPaper } from './curve-to-paper.ts';
import type { PixelPoint } from './grey-image.ts';
import { lengthAloneError, paperFromLength } from './paper-from-length.ts';
import { type FourCorners, paperFromRectangle, paperFromSheet } from './paper-plane.ts';
import { paperUncertainty } from './paper-uncertainty.ts';
import { ARCH, anyCamera, cameraOver, seenAt, worstFrom } from './synthetic-photo.fixture.ts';

const jitter = (random: Random): number => (random() + random() + random() + random() - 2) * Math.sqrt(3);

const caught = (make: () => unknown): InputError => {
  try {
    make();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
};

describe('a sheet by its clicked corners', () => {
  const tile = sheetTile('a4', 1, 1);
  const outer = tile.marks.map((mark, i) => mark.cornersMm[i]!);
  const own = ARCH.filter(([right]) => Math.abs(right) < 90);

  it('exact clicks give the curve to 1e-6 mm (seeds 1 to 20)', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const camera = anyCamera(seededRandom(seed), { tiles: 1 });
      const corners = outer.map((p) => seenAt(camera, p)) as unknown as FourCorners;
      const plane = paperFromSheet(corners, tile);
      const read = curveToPaper(
        own.map((p) => seenAt(camera, p)),
        plane,
      );
      expect(Math.max(...read.map((p, i) => Math.hypot(p[0] - own[i]![0], p[1] - own[i]![1])))).toBeLessThan(1e-6);
      expect(plane.sheets).toEqual({ paper: 'a4', tiles: 1 });
    }
  });

  it('clicks wrong by 1 px: within 1 mm, and within twice the stated error in 95 of 100 (seeds 1 to 100)', () => {
    let within = 0;
    let worst = 0;
    for (let seed = 1; seed <= 100; seed++) {
      const random = seededRandom(seed);
      const camera = anyCamera(random, { tiles: 1 });
      const corners = outer.map((p): PixelPoint => {
        const [x, y] = seenAt(camera, p);
        return [x + jitter(random), y + jitter(random)];
      }) as unknown as FourCorners;
      const plane = paperFromSheet(corners, tile);
      const middle = own[60]!;
      const seen = seenAt(camera, middle);
      const [read] = curveToPaper([seen], plane);
      const error = Math.hypot(read![0] - middle[0], read![1] - middle[1]);
      // Two directions: 95 % of a round normal law lie within 2.45 standard deviations; it is never rounder than that.
      if (error < 2.45 * paperUncertainty(plane, seen, plane.cornerPx).cornersMm) within++;
      worst = Math.max(
        worst,
        worstFrom(
          own,
          curveToPaper(
            own.slice(2, -2).map((p) => seenAt(camera, p)),
            plane,
          ),
        ),
      );
    }
    expect(within).toBeGreaterThanOrEqual(93);
    expect(worst).toBeLessThan(1);
    expect(worst).toBeGreaterThan(0.2);
  });

  it('a mirrored photo, or corners the other way round, are refused; so is a point beyond the horizon', () => {
    const camera = anyCamera(seededRandom(5), { tiles: 1 });
    const [a, b, c, d] = outer.map((p) => seenAt(camera, p)) as unknown as FourCorners;
    expect(caught(() => paperFromSheet([b, a, d, c], tile)).code).toBe('inconsistent');
    const flipped = [a, b, c, d].map(([x, y]): PixelPoint => [camera.width - x, y]) as unknown as FourCorners;
    expect(caught(() => paperFromSheet(flipped, tile)).details.expected).toContain('not mirrored');
    const steep = cameraOver({
      ...{ width: 1400, height: 1050, tiltDeg: 55, axisDeg: 0, rollDeg: 0, focal: 0.7, paper: 'a4', tiles: 1 },
    });
    const plane = paperFromSheet(outer.map((p) => seenAt(steep, p)) as unknown as FourCorners, tile);
    const beyond = [-40, -4000, 40, 4000].map((y): PixelPoint => [700, y * 2]);
    expect(beyond.map((p) => caughtCode(() => curveToPaper([p], plane)))).toContain('out-of-range');
  });

  const caughtCode = (make: () => unknown): string => {
    try {
      make();
      return 'none';
    } catch (error) {
      return error instanceof InputError ? error.code : 'other';
    }
  };
});

describe('a known rectangle', () => {
  it('reads lengths and places from its middle, right and up (seeds 1 to 20)', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const camera = anyCamera(seededRandom(seed), { tiles: 2 });
      const corners: SheetPoint[] = [
        [-120, -20],
        [80, -20],
        [80, -170],
        [-120, -170],
      ];
      const plane = paperFromRectangle(corners.map((p) => seenAt(camera, p)) as unknown as FourCorners, 200, 150);
      const [read] = curveToPaper([seenAt(camera, [30, -35])], plane);
      expect(read![0]).toBeCloseTo(50, 6);
      expect(read![1]).toBeCloseTo(60, 6);
      expect(plane.warnings.join()).toContain('not corrected');
    }
    const square = paperCorners();
    expect(caught(() => paperFromRectangle(square, 0, 100)).details.field).toBe('widthMm');
  });
  const paperCorners = (): FourCorners => [
    [0, 0],
    [100, 0],
    [100, 100],
    [0, 100],
  ];
});

describe('one known length alone', () => {
  it('is refused with what a tilt would do; its numbers are those of a camera model (pinhole, paper 1 m away)', () => {
    const error = caught(() => paperFromLength(100));
    expect(error.code).toBe('missing');
    // Brute force: points of a paper turned by 20 degrees, projected and read by the scale at its middle.
    const tilt = (20 * Math.PI) / 180;
    const read = (x: number): number => ((x * Math.cos(tilt)) / (1000 + x * Math.sin(tilt))) * 1000;
    const short = 480 - (read(240) - read(-240));
    const halves = -read(-240) - read(240);
    const steep = (Math.atan2(1, Math.cos(tilt) / Math.tan((40 * Math.PI) / 180)) * 180) / Math.PI - 40;
    const own = lengthAloneError(20, 480, 1000, 40);
    expect(own.shortMm).toBeCloseTo(short, 9);
    expect(own.halvesMm).toBeCloseTo(halves, 9);
    expect(own.slopeDeg).toBeCloseTo(steep, 9);
    for (const number of [short.toFixed(0), halves.toFixed(0), steep.toFixed(1)]) {
      expect(error.message).toContain(` ${number} `);
    }
    expect(lengthAloneError(0, 480, 1000, 40)).toEqual({ shortMm: 0, halvesMm: 0, slopeDeg: 0 });
  });
});
