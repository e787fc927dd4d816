import { describe, expect, it } from 'vitest';
import { cylinderField, planeField } from '../../packages/geometry/src/seating/analytic-fields.fixture.ts';
import { highest, patchBody, pressedArea, weight } from '../../packages/geometry/src/seating/bodies.fixture.ts';
import { press, refine } from '../../packages/geometry/src/seating/foundation.fixture.ts';

/**
 * A bar of lengthwise radius Rb over a back of hollow radius Rk: VALIDATION A3. Two readings are tested. On a level back,
 * a bar hollow by the relative curvature kap = 1/Rk - 1/Rb: Euclidean distance = vertical gap, so the closed forms are
 * exact but for the grid. On a true valley of radius Rk: Euclidean distance to an arc, closed forms good to their own
 * L^2/R^2 terms, about 1 % here.
 */
const L = 500;
const B = 60;
const K = 0.03;
const RK = 1500;
const RB = 4000;
const KAP = 1 / RK - 1 / RB;
const HALF = L / 2;
const sagitta = (r: number): number => r - Math.sqrt(r * r - HALF * HALF);

/** A hollow strip (kap > 0 bridges) over a level back. */
const levelStrip = (kap: number, n: number) =>
  patchBody({ lengthMm: L, widthMm: B, nx: n, ny: 1, heightMm: (x) => (-kap * x * x) / 2 });
const depthOnLevel = (kap: number, forceN: number, n: number) => {
  const seat = press(levelStrip(kap, n), planeField(), K, [weight(forceN)], ['z', 'pitch'], { zMm: 12 });
  // The end edge sinks to z = pose + height(L/2).
  return { seat, endDepth: -(seat.pose.zMm - (kap * HALF * HALF) / 2), middleGap: seat.pose.zMm };
};

/** c where the gap still open between -c and c meets the closed form's force: F = k B kap (a-c)^2 (a+2c)/3, by halving. */
function openHalfLength(forceN: number): number {
  let low = 0;
  let high = HALF;
  for (let i = 0; i < 60; i++) {
    const c = (low + high) / 2;
    if ((K * B * KAP * (HALF - c) ** 2 * (HALF + 2 * c)) / 3 > forceN) low = c;
    else high = c;
  }
  return (low + high) / 2;
}

describe('bridging over a level back with the relative curvature (vertical gap)', () => {
  it('the closed form itself: worked values of VALIDATION A3', () => {
    expect(openHalfLength(100)).toBeCloseTo(226.134, 3);
    expect(openHalfLength(2531.25)).toBeCloseTo(100, 6);
    expect(500 * K * KAP * (HALF ** 2 - openHalfLength(100) ** 2)).toBeCloseTo(71.02, 2);
  });

  for (const forceN of [100, 2531.25]) {
    it(`partly closed at ${forceN} N: end pressure within 0.05 % and open length within 0.05 %, order 2`, () => {
      const c = openHalfLength(forceN);
      const endDepth = (KAP / 2) * (HALF ** 2 - c ** 2);
      const depth = refine([50, 100, 200, 400], (n) => depthOnLevel(KAP, forceN, n).endDepth / endDepth - 1);
      const open = refine([50, 100, 200, 400], (n) => {
        const { middleGap } = depthOnLevel(KAP, forceN, n);
        return Math.sqrt((2 * middleGap) / KAP) / c - 1;
      });
      for (const study of [depth, open]) {
        expect(study.finest).toBeLessThan(5e-4);
        expect(study.order).toBeGreaterThan(1.6);
        expect(study.order).toBeLessThan(2.4);
      }
    });
  }

  it('100 N leaves 10.653 mm open in the middle, within 0.002 mm', () => {
    expect(Math.abs(depthOnLevel(KAP, 100, 800).middleGap - 10.653)).toBeLessThan(2e-3);
  });

  it('3906.25 N just closes the bridge: 390.625 kPa at the ends, middle at 0 within 0.001 mm; 1 % less leaves daylight', () => {
    const { endDepth, middleGap } = depthOnLevel(KAP, 3906.25, 1000);
    expect(Math.abs(1000 * K * endDepth - 390.625)).toBeLessThan(0.02);
    expect(Math.abs(middleGap)).toBeLessThan(1e-3);
    expect(depthOnLevel(KAP, 3906.25 * 0.99, 1000).middleGap).toBeGreaterThan(0.01);
    expect(depthOnLevel(KAP, 3906.25 * 1.01, 1000).middleGap).toBeLessThan(-0.01);
  });

  it('closed at 6000 N: p(x) = F/BL + (k kap/2)(x^2 - L^2/12) all along, within 0.01 kPa', () => {
    const n = 500;
    const { seat } = depthOnLevel(KAP, 6000, n);
    for (let i = 0; i < n; i += 17) {
      const x = -HALF + ((i + 0.5) * L) / n;
      const expected = 1000 * (6000 / (B * L) + ((K * KAP) / 2) * (x * x - (L * L) / 12));
      expect(Math.abs(1000 * seat.pressureMPa[i] - expected)).toBeLessThan(0.01);
    }
  });

  it('rocker, Req 2400, 100 N: depth .71249, half length 58.480, 21.375 kPa (within 0.05 %, length within a cell)', () => {
    const study = refine([100, 200, 400, 800], (n) => -depthOnLevel(-1 / 2400, 100, n).seat.pose.zMm / 0.71249 - 1);
    expect(study.finest).toBeLessThan(5e-4);
    expect(study.order).toBeGreaterThan(1.5);
    expect(study.order).toBeLessThan(2.5);
    const body = levelStrip(-1 / 2400, 1001);
    const { seat } = depthOnLevel(-1 / 2400, 100, 1001);
    expect(1000 * highest(seat.pressureMPa)).toBeCloseTo(21.375, 1);
    expect(Math.abs(pressedArea(body, seat) / B / 2 - 58.48)).toBeLessThan(0.5);
    // End gap L^2/(8 Req) over the unloaded touch, less the squeeze.
    expect(seat.rows.distanceMm[0] + -seat.pose.zMm).toBeCloseTo((HALF - 0.25) ** 2 / 4800, 2);
  });
});

describe('bridging in a true valley (Euclidean distance to an arc)', () => {
  const arcBar = (n: number, rb: number, scale = 1) =>
    patchBody({
      lengthMm: L * scale,
      widthMm: B,
      nx: n,
      ny: 1,
      rule: 'nodes',
      heightMm: (x) => rb - Math.sqrt(rb * rb - x * x),
    });
  const valley = (rk: number) => cylinderField([0, 0, rk], [0, 1, 0], rk, 'valley');
  const start = { zMm: sagitta(RK) - sagitta(RB) - 0.05 };

  it('rigid gap in the middle: exact sagitta difference 13.15991 mm; the error is the squeeze and falls with the load', () => {
    const exact = sagitta(RK) - sagitta(RB);
    expect(exact).toBeCloseTo(13.15991, 5);
    const errors = [1, 0.1, 0.01].map((newtons) => {
      const seat = press(arcBar(100, RB), valley(RK), 10, [weight(newtons)], ['z', 'pitch'], start);
      return Math.abs(seat.rows.distanceMm[50] - exact);
    });
    expect(errors[2]).toBeLessThan(1e-5);
    expect(errors[0] / errors[1]).toBeCloseTo(10, 0);
    expect(errors[1] / errors[2]).toBeCloseTo(10, 0);
  });

  it('scenario 3: the exact gap is within 15 % of (L^2/8)(1/Rk - 1/Rb), here 1.1 % above it', () => {
    const approx = (L * L * KAP) / 8;
    expect(approx).toBeCloseTo(13.02083, 5);
    expect((sagitta(RK) - sagitta(RB)) / approx - 1).toBeCloseTo(0.011, 3);
  });

  it('partly closed at 100 N: end pressure and middle gap within 3 % of the flat closed form', () => {
    const seat = press(arcBar(800, RB), valley(RK), K, [weight(100)], ['z', 'pitch'], start);
    expect(Math.abs((1000 * highest(seat.pressureMPa)) / 71.02 - 1)).toBeLessThan(0.03);
    expect(Math.abs(seat.rows.distanceMm[400] / 10.653 - 1)).toBeLessThan(0.03);
  });

  it("the closed form's own error falls as L^2/R^2: four times the radii, a sixteenth of the error (order 1.7 to 2.3)", () => {
    const errors = [1, 2, 4].map((times) => {
      const [rk, rb] = [RK * times, RB * times];
      // Load in proportion to kap, so that the same share of the bar bears.
      const seat = press(arcBar(1600, rb), valley(rk), K, [weight(2531.25 / times)], ['z', 'pitch'], {
        zMm: (sagitta(rk) - sagitta(rb)) / 2,
      });
      return Math.abs((1000 * highest(seat.pressureMPa) * times) / 328.125 - 1);
    });
    const order = Math.log(errors[0] / errors[2]) / Math.log(4);
    expect(errors[0]).toBeLessThan(0.03);
    expect(order).toBeGreaterThan(1.7);
    expect(order).toBeLessThan(2.3);
  });

  it('scenarios 2 and 3 laid on: Rb 1000 in R 1450 touches in the middle, Rb 2500 at both ends', () => {
    const back = valley(1450);
    const laid = (rb: number) =>
      press(arcBar(100, rb), back, 1, [weight(150)], ['z', 'pitch'], { zMm: sagitta(1450) - sagitta(rb) - 0.2 });
    const rocks = laid(1000);
    const bridges = laid(2500);
    expect(rocks.pressureMPa[50]).toBeGreaterThan(0);
    expect(rocks.pressureMPa[0]).toBe(0);
    expect(rocks.pressureMPa[100]).toBe(0);
    expect(rocks.rows.distanceMm[0]).toBeGreaterThan(5);
    expect(bridges.pressureMPa[0]).toBeGreaterThan(0);
    expect(bridges.pressureMPa[100]).toBeGreaterThan(0);
    expect(bridges.pressureMPa[50]).toBe(0);
    const gap = bridges.rows.distanceMm[50];
    expect(Math.abs(gap / (((L * L) / 8) * (1 / 1450 - 1 / 2500)) - 1)).toBeLessThan(0.15);
  });
});
