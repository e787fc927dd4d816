import { describe, expect, it } from 'vitest';
import { planeField } from '../../packages/geometry/src/seating/analytic-fields.fixture.ts';
import { patchBody, pressedArea, weight } from '../../packages/geometry/src/seating/bodies.fixture.ts';
import { press } from '../../packages/geometry/src/seating/foundation.fixture.ts';
import made from './bridging-bar.json' with { type: 'json' };
import kept from './contact-fem.json' with { type: 'json' };

/**
 * Our seating against stored answers of an outside finite-element program; where they come from, what was modelled and
 * why the tolerance is what it is stands in the two files. Nothing is run here but our own solver.
 */
const K = 0.03;
const HALF = 250;
const KAP = 1 / 1500 - 1 / 4000;

function bridge(forceN: number, cells = 1000) {
  const body = patchBody({
    lengthMm: 2 * HALF,
    widthMm: 60,
    nx: cells,
    ny: 1,
    heightMm: (x) => (-KAP * x * x) / 2,
  });
  const { pose } = press(body, planeField(), K, [weight(forceN)], ['z', 'pitch'], { zMm: 12 });
  return {
    endDepthMm: (KAP * HALF * HALF) / 2 - pose.zMm,
    openHalfLengthMm: Math.sqrt((2 * pose.zMm) / KAP),
    middleGapMm: pose.zMm,
  };
}

/** The stored answer's distance from ours, as the tolerances are stated. */
const percent = (ours: number, theirs: number): number => Math.abs(theirs / ours - 1) * 100;

describe('bridging bar against kept finite-element answers', () => {
  for (const run of kept.bridgingBar.runs) {
    it(`${run.forceN} N: end depth within ${run.withinPercent.endDepth} %, open length within ${run.withinPercent.openHalfLength} %`, () => {
      const ours = bridge(run.forceN);
      expect(percent(ours.endDepthMm, run.endDepthMm)).toBeLessThan(run.withinPercent.endDepth);
      expect(percent(ours.openHalfLengthMm, run.openHalfLengthMm)).toBeLessThan(run.withinPercent.openHalfLength);
    });
  }

  for (const run of kept.bridgingBarOnSprings.runs) {
    it(`on springs, ${run.forceN} N: end depth within ${run.withinPercent.endDepth} %`, () => {
      expect(percent(bridge(run.forceN).endDepthMm, run.endDepthMm)).toBeLessThan(run.withinPercent.endDepth);
    });
  }
});

describe('bridging bar against answers made by bridging-bar.mjs', () => {
  it('the stored file says which program and version, what was modelled and why the tolerance', () => {
    expect(made.provenance.program).toContain('CalculiX');
    expect(made.provenance.version).toMatch(/^\d+\.\d+/);
    expect(made.provenance.tolerance.why.length).toBeGreaterThan(20);
  });

  for (const run of made.answers) {
    it(`${run.forceN} N: end depth and middle gap within 0.35 % of the depth, open length within 1 %, and it carried its load`, () => {
      const ours = bridge(run.forceN);
      const { endDepthPercent, openHalfLengthPercent } = made.provenance.tolerance;
      expect(percent(ours.endDepthMm, run.endDepthMm)).toBeLessThan(endDepthPercent);
      expect(percent(ours.openHalfLengthMm, run.openHalfLengthMm)).toBeLessThan(openHalfLengthPercent);
      // The middle gap is what is left of 13.02 mm: its error is that of the end depth.
      expect(Math.abs(ours.middleGapMm - run.middleGapMm)).toBeLessThan((endDepthPercent / 100) * run.endDepthMm);
      expect(run.carriedN).toBeCloseTo(run.forceN, 3);
    });
  }
});

describe('eccentric punch against kept finite-element answers', () => {
  for (const run of kept.eccentricPunch.runs) {
    it(`e = ${run.eccentricityMm}: highest pressure within ${run.withinPercent.highest} %, contact within ${run.withinPercent.contact} %`, () => {
      const body = patchBody({ lengthMm: 400, widthMm: 60, nx: 800, ny: 1 });
      const seat = press(body, planeField(), K, [weight(600, run.eccentricityMm)], ['z', 'pitch'], { zMm: -1 });
      const highestKPa = 1000 * K * -(seat.pose.zMm - Math.sin(seat.pose.pitchRad) * 200);
      expect(percent(highestKPa, run.highestKPa)).toBeLessThan(run.withinPercent.highest);
      expect(percent(pressedArea(body, seat) / 60, run.contactMm)).toBeLessThan(run.withinPercent.contact);
    });
  }
});
