import { describe, expect, it } from 'vitest';
import { planeField } from '../../packages/geometry/src/seating/analytic-fields.fixture.ts';
import { discBody, patchBody, pressedArea, weight } from '../../packages/geometry/src/seating/bodies.fixture.ts';
import { press, refine } from '../../packages/geometry/src/seating/foundation.fixture.ts';
import type { Seat } from '../../packages/geometry/src/seating/index.ts';

/**
 * Eccentric load on a flat rigid block over a one-sided foundation: VALIDATION A2 (Meyerhof 1953 and footing texts, from
 * memory; biaxial lift-off numbers re-computed by quadrature). Stiffness 3 N/mm3, so that tilts are some 1e-4 rad and the
 * small-angle closed forms hold to 1e-7: the Euclidean distance to the level back is the vertical gap.
 */
const K = 3;
const F = 600;
const L = 400;
const B = 60;
const MEAN = (1000 * F) / (L * B);

const settle = (ex: number, ey: number, nx: number, ny: number, k = K): { seat: Seat; area: number } => {
  const body = patchBody({ lengthMm: L, widthMm: B, nx, ny });
  const seat = press(body, planeField(), k, [weight(F, ex, ey)], ['z', 'roll', 'pitch'], { zMm: -0.01 });
  return { seat, area: pressedArea(body, seat) };
};

/** Pressure at a point of the block from the pose alone, kPa: negative where it has lifted. */
const pressureAt = ({ pose }: Seat, x: number, y: number, k = K): number =>
  1000 * k * -(pose.zMm - Math.sin(pose.pitchRad) * x + Math.cos(pose.pitchRad) * Math.sin(pose.rollRad) * y);

describe('block 400 x 60 under 600 N, loaded off its middle lengthwise', () => {
  it('e = 40: full contact, 40 and 10 kPa; e = L/6: 50 and 0 kPa (grid error below 0.02 kPa)', () => {
    const a = settle(40, 0, 200, 4).seat;
    expect(Math.abs(pressureAt(a, L / 2, 0) - 40)).toBeLessThan(0.02);
    expect(Math.abs(pressureAt(a, -L / 2, 0) - 10)).toBeLessThan(0.02);
    const b = settle(L / 6, 0, 200, 4).seat;
    expect(Math.abs(pressureAt(b, L / 2, 0) - 50)).toBeLessThan(0.02);
    expect(Math.abs(pressureAt(b, -L / 2, 0) - 0)).toBeLessThan(0.02);
  });

  for (const [e, contact, highest] of [
    [100, 300, 66.6667],
    [150, 150, 133.3333],
  ] as const) {
    it(`e = ${e}: lifts off, contact ${contact} mm and ${highest} kPa within 0.1 %, both of order 2`, () => {
      const lifted = (n: number) => {
        const { seat } = settle(e, 0, n, 1);
        const at = pressureAt(seat, L / 2, 0);
        return { at, contact: (L * at) / (at - pressureAt(seat, -L / 2, 0)) };
      };
      const pressure = refine([20, 40, 80, 160], (n) => lifted(n).at / highest - 1);
      const length = refine([20, 40, 80, 160], (n) => lifted(n).contact / contact - 1);
      for (const study of [pressure, length]) {
        expect(study.finest).toBeLessThan(1e-3);
        expect(study.order).toBeGreaterThan(1.6);
        expect(study.order).toBeLessThan(2.4);
      }
    });
  }

  it('the pressure does not depend on the foundation stiffness, full contact or lifted (1e-5)', () => {
    for (const e of [40, 150]) {
      const soft = settle(e, 0, 80, 2, 0.3).seat;
      const hard = settle(e, 0, 80, 2, 30).seat;
      expect(pressureAt(hard, L / 2, 0, 30) / pressureAt(soft, L / 2, 0, 0.3) - 1).toBeCloseTo(0, 4);
    }
  });
});

describe('block loaded off its middle both ways', () => {
  it('full contact while 6 ex/L + 6 ey/B <= 1: corner (1 + 6 ex/L + 6 ey/B) F/A; .05, .05 gives 1.6 (within 0.1 %)', () => {
    const { seat, area } = settle(0.05 * L, 0.05 * B, 120, 60);
    expect(Math.abs(pressureAt(seat, L / 2, B / 2) / MEAN - 1.6)).toBeLessThan(1e-3);
    expect(area).toBeCloseTo(L * B, 6);
    expect(Math.abs(pressureAt(settle(L / 12, B / 12, 120, 60).seat, -L / 2, -B / 2) / MEAN - 0)).toBeLessThan(1e-3);
  });

  // VALIDATION A2, four digits, re-computed there by quadrature; the last two rows are also the exact corner triangle.
  const ROWS = [
    [0.1, 2.2045, 0.9852],
    [0.15, 2.9711, 0.8592],
    [0.2, 4.1373, 0.6884],
    [0.25, 6, 0.5],
    [0.35, 16.6667, 0.18],
  ] as const;
  for (const [share, highest, fraction] of ROWS) {
    it(`ex/L = ey/B = ${share}: highest ${highest} F/A and contact ${fraction} of the block (within 0.2 % and 1 %)`, () => {
      const { seat, area } = settle(share * L, share * B, 200, 100);
      expect(Math.abs(pressureAt(seat, L / 2, B / 2) / MEAN / highest - 1)).toBeLessThan(2e-3);
      expect(Math.abs(area / (L * B) / fraction - 1)).toBeLessThan(1e-2);
    });
  }

  it('corner triangle: legs 4 (L/2 - ex) and 4 (B/2 - ey), 240 x 36 at .35, within 0.5 %', () => {
    const { seat } = settle(0.35 * L, 0.35 * B, 200, 100);
    const corner = pressureAt(seat, L / 2, B / 2);
    expect(Math.abs((L * corner) / (corner - pressureAt(seat, -L / 2, B / 2)) / 240 - 1)).toBeLessThan(5e-3);
    expect(Math.abs((B * corner) / (corner - pressureAt(seat, L / 2, -B / 2)) / 36 - 1)).toBeLessThan(5e-3);
  });

  it('the highest pressure at (.15, .15) converges with order 2', () => {
    const { seat } = settle(0.15 * L, 0.15 * B, 400, 200);
    const best = pressureAt(seat, L / 2, B / 2);
    const study = refine(
      [10, 20, 40],
      (n) => pressureAt(settle(0.15 * L, 0.15 * B, n, n).seat, L / 2, B / 2) / best - 1,
    );
    expect(study.order).toBeGreaterThan(1.6);
    expect(study.order).toBeLessThan(2.6);
  });
});

describe('circular patch', () => {
  const R = 60;
  const tilted = (e: number, n: number) => {
    const body = discBody(R, n, 4 * n);
    const seat = press(body, planeField(), K, [weight(F, e)], ['z', 'roll', 'pitch'], { zMm: -0.01 });
    return { high: pressureAt(seat, R, 0), low: pressureAt(seat, -R, 0) };
  };
  const mean = (1000 * F) / (Math.PI * R * R);

  it('kern R/4: 2 F/A on one rim and nothing on the other, within 0.1 % and of order 2', () => {
    const { high, low } = tilted(R / 4, 64);
    expect(Math.abs(high / mean - 2)).toBeLessThan(1e-3);
    expect(Math.abs(low / mean - 0)).toBeLessThan(1e-3);
    const study = refine([8, 16, 32], (n) => tilted(R / 4, n).high / mean / 2 - 1);
    expect(study.order).toBeGreaterThan(1.6);
    expect(study.order).toBeLessThan(2.4);
  });

  it('just inside the kern the far rim is pressed, just outside it has lifted', () => {
    expect(tilted(0.24 * R, 48).low).toBeGreaterThan(0);
    expect(tilted(0.26 * R, 48).low).toBeLessThan(0);
  });
});
