import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arcHeight, arcLevelAt, arcTangentRad, fitArc } from './measure-arc.ts';
import { findDeparture, growArc } from './measure-grow-arc.ts';
import { findLowPoint, measureRock, radiusFromSag } from './measure-line.ts';
import { chordSlopeDeg, sagitta } from './measure-station.ts';

const grid = (from: number, to: number, n: number): Float64Array =>
  Float64Array.from({ length: n }, (_, i) => from + ((to - from) * i) / (n - 1));

/** Lower half of a circle about (cx, cz): convex downward. */
const circle = (cx: number, cz: number, r: number) => (x: number) => cz - Math.sqrt(r * r - (x - cx) ** 2);

describe('fitArc', () => {
  it('gives back any circle of a bar section from exact points (seed 20, 300 runs)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 200, max: 5000, noNaN: true }),
        fc.double({ min: -1.1, max: 0.6, noNaN: true }),
        fc.double({ min: 60, max: 190, noNaN: true }),
        fc.boolean(),
        (r, tilt, width, hollow) => {
          // The chord is turned about its middle, so that steep sections are asked for too.
          const half = Math.min(width / 2, 0.3 * r) * Math.cos(tilt);
          const sign = hollow ? -1 : 1;
          const f = circle(120 - r * Math.sin(tilt) * sign, 10, r);
          const y = grid(120 - half, 120 + half, 41);
          const z = y.map((v) => sign * f(v));
          const fit = fitArc(y, z, 0, 40);
          expect(fit).not.toBeNull();
          expect(fit!.arc.curvaturePerMm * r * sign).toBeCloseTo(1, 6);
          expect(fit!.worstMm).toBeLessThan(1e-7);
          expect(Math.abs(arcHeight(fit!.arc, 120) - sign * f(120))).toBeLessThan(1e-7);
          expect(Math.sin(arcTangentRad(fit!.arc, 120))).toBeCloseTo(Math.sin(tilt), 8);
        },
      ),
      { seed: 20, numRuns: 300 },
    );
  });

  it('takes a straight line as an arc of curvature 0', () => {
    const y = grid(60, 180, 25);
    const fit = fitArc(
      y,
      y.map((v) => 3 - 0.7 * v),
      0,
      24,
    );
    expect(Math.abs(fit!.arc.curvaturePerMm)).toBeLessThan(1e-14);
    expect(chordSlopeDeg(fit!.arc, 60, 180)).toBeCloseTo((Math.atan(0.7) * 180) / Math.PI, 10);
    expect(arcLevelAt({ xMm: 0, zMm: 0, sine: 0.1, curvaturePerMm: 0 })).toBeNaN();
  });

  it('answers null for too few points, points on a vertical, and points that are no numbers', () => {
    expect(fitArc([1, 2, 3], [0, 1, 0], 0, 2)).toBeNull();
    expect(fitArc([1, 1, 1, 1, 1], [0, 1, 2, 3, 4], 0, 4)).toBeNull();
    expect(fitArc([1, 2, 3, 4, 5], [0, Number.NaN, 0, 1, 2], 0, 4)).toBeNull();
    expect(fitArc([1, 1, 1, 1, 1], [2, 2, 2, 2, 2], 0, 4)).toBeNull();
  });
});

describe('sagitta and radius', () => {
  it('crown height is R - sqrt(R^2 - w^2/4), and near w^2/(8R) for shallow arcs', () => {
    expect(sagitta(1 / 450, 150)).toBeCloseTo(450 - Math.sqrt(450 ** 2 - 75 ** 2), 12);
    expect(sagitta(1 / 20_000, 100)).toBeCloseTo(100 ** 2 / (8 * 20_000), 6);
    expect(sagitta(0, 150)).toBe(0);
    expect(sagitta(-1 / 450, 150)).toBeCloseTo(-sagitta(1 / 450, 150), 14);
  });

  it('R = c^2/(8 s) + s/2 turns the sagitta of R back into R, and a sag of 0 into none', () => {
    for (const r of [400, 1150, 1450, 20_000]) expect(radiusFromSag(420, sagitta(1 / r, 420))! / r).toBeCloseTo(1, 12);
    expect(radiusFromSag(420, -sagitta(1 / 1450, 420))).toBeCloseTo(-1450, 6);
    expect(radiusFromSag(420, 0)).toBeNull();
  });
});

describe('measureRock', () => {
  it('is exact for a circle, also over a chord that is not level', () => {
    const f = circle(200, 0, 1450);
    for (const [from, to] of [
      [80, 500],
      [200, 600],
      [0, 150],
    ] as const) {
      const rock = measureRock('bearing', f, from, to)!;
      const chord = Math.hypot(to - from, f(to) - f(from));
      expect(rock.chordMm).toBeCloseTo(chord, 10);
      expect(rock.sagMm).toBeCloseTo(sagitta(1 / 1450, chord), 8);
      expect(rock.radiusMm! / 1450).toBeCloseTo(1, 8);
      expect(rock.radiusFitMm! / 1450).toBeCloseTo(1, 8);
    }
  });

  it('finds the low point of a circle, and none of a straight or a hollow line', () => {
    expect(findLowPoint(circle(213.7, 0, 1150), 60, 440)).toBeCloseTo(213.7, 6);
    expect(findLowPoint((b) => 0.02 * b, 60, 440)).toBeNull();
    expect(findLowPoint((b) => -circle(250, 0, 1150)(b), 60, 440)).toBeNull();
    expect(findLowPoint(circle(500, 0, 1150), 60, 440)).toBeNull();
  });

  it('answers null where the chord leaves the surface', () => {
    expect(measureRock('middle', (b) => (b > 400 ? Number.NaN : 0), 60, 440)).toBeNull();
  });
});

describe('growArc and findDeparture', () => {
  const arc = circle(260, 0, 1300);
  const b = grid(0, 560, 121);
  const lift = (v: number): number => 18 * (Math.max(0, 75 - v) / 75) ** 2 + 9 * (Math.max(0, v - 500) / 60) ** 2;

  it('finds two tips that leave an arc with the square of the way: lift, start and where it passes 0.1 mm', () => {
    const z = b.map((v) => arc(v) + lift(v));
    const grown = growArc(b, z, 0.01)!;
    expect(grown.arc.curvaturePerMm * 1300).toBeCloseTo(1, 5);
    const front = findDeparture(b, z, grown, -1, 0.1);
    const rear = findDeparture(b, z, grown, 1, 0.1);
    expect(Math.abs(front.liftMm - 18)).toBeLessThan(2e-3);
    expect(Math.abs(rear.liftMm - 9)).toBeLessThan(2e-3);
    expect(Math.abs(front.startMm - 75)).toBeLessThan(0.02);
    expect(Math.abs(rear.startMm - 500)).toBeLessThan(0.02);
    expect(Math.abs(front.thresholdMm - 75 * (1 - Math.sqrt(0.1 / 18)))).toBeLessThan(0.1);
    expect(Math.abs(rear.thresholdMm - (500 + 60 * Math.sqrt(0.1 / 9)))).toBeLessThan(0.1);
  });

  it('takes the whole of a curve without tips, and calls the lift nothing', () => {
    const z = b.map(arc);
    const grown = growArc(b, z, 0.01)!;
    expect([grown.from, grown.to]).toEqual([0, 120]);
    for (const direction of [-1, 1] as const) {
      const { liftMm, startMm, thresholdMm } = findDeparture(b, z, grown, direction, 0.1);
      const end = direction < 0 ? 0 : 560;
      expect(Math.abs(liftMm)).toBeLessThan(1e-9);
      expect([startMm, thresholdMm]).toEqual([end, end]);
    }
  });

  it('widens its tolerance with the roughness of the middle instead of stopping at the first rough point', () => {
    const z = b.map((v, i) => arc(v) + lift(v) + (i % 2 === 0 ? 0.1 : -0.1));
    const grown = growArc(b, z, 0.01)!;
    expect(grown.toleranceMm).toBeGreaterThan(0.3);
    expect(b[grown.from]).toBeLessThan(75);
    expect(b[grown.to]).toBeGreaterThan(490);
    expect(Math.abs(findDeparture(b, z, grown, -1, 0.5).liftMm - 18)).toBeLessThan(0.4);
  });
});
