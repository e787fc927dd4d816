import { describe, expect, it } from 'vitest';
import { plainShape } from '../bar/demo-shapes.fixture.ts';
import { treeOf } from '../bar/demo-tree.fixture.ts';
import { analyticBack } from './analytic-back.fixture.ts';
import { cylinderField, planeField, roofField } from './analytic-fields.fixture.ts';
import { bearingCapacity } from './capacity.ts';
import { gapFigures } from './gap-figures.ts';
import { lengthwiseProfile } from './lengthwise-profile.ts';
import { measureMismatch } from './mismatch.ts';
import { type SeatedTree, seatTree } from './seat-tree.ts';
import { SETUP_DEFAULTS, type Setup } from './setup-schema.ts';
import { spineClearance } from './spine-clearance.ts';

/** Figures read off seatings whose answer is known: flat bars on flat, pitched and hollow backs. */
const RADIANS = Math.PI / 180;
const setup: Setup = {
  ...SETUP_DEFAULTS,
  setPositionMm: 0,
  samples: 2000,
  load: { ...SETUP_DEFAULTS.load, at: 50 },
};
const level = analyticBack(planeField(), () => 0);
const flatTree = treeOf(plainShape({ slopeRad: 0 }));
/** Tissue 3 and pad 2.5 kPa/mm in series. */
const K = 1e-3 / (1 / 3 + 1 / 2.5);

describe('flat bars on a level back: one pressure all over', () => {
  const seated = seatTree(flatTree, level, setup);
  const area = 2 * 500 * 120;
  const squeeze = seated.loadN / area / K;

  it('gap figures: squeeze F/(A k) everywhere', () => {
    const gap = gapFigures(seated);
    for (const mm of [gap.minMm, gap.maxMm, gap.meanMm, gap.middleMm]) expect(mm).toBeCloseTo(-squeeze, 7);
  });

  it('spine clearance: the pose, plus what stands above the inner edges; channel = spread', () => {
    const { atForkMm, alongMm, channelMm } = spineClearance(seated);
    const lift = seated.stack.thicknessMm - squeeze;
    expect(atForkMm).toBeCloseTo(seated.tree.parts.gulletHeightMm + lift, 6);
    expect(channelMm).toBeCloseTo(130, 9);
    // Bar 22 mm thick and level; the ground seat's rise comes on top and is least at one of its ends.
    const { groundSeatRiseFrontMm, groundSeatRiseMm } = seated.tree.parts;
    expect(alongMm).toBeCloseTo(22 + Math.min(groundSeatRiseFrontMm, groundSeatRiseMm) + lift, 6);
  });

  it('rule of thumb: 2 psi x the core zone seen from above = 2 x 6.894757 kPa x 840 cm2', () => {
    const capacity = bearingCapacity(seated, { positions: [50] });
    expect(capacity.coreProjectionCm2).toBeCloseTo(840, 6);
    expect(capacity.ruleOfThumbN).toBeCloseTo(2 * 6.894757293168361e-3 * 84_000, 5);
  });

  it('solved: mean 11 kPa at 1320 N and peak 30 kPa at 3600 N, within 0.3 %; the mean comes first', () => {
    const [solved] = bearingCapacity(seated, { positions: [50] }).solved;
    expect(Math.abs(solved.meanN! / 1320 - 1)).toBeLessThan(3e-3);
    expect(Math.abs(solved.peakN! / 3600 - 1)).toBeLessThan(3e-3);
    expect(solved.firstReached).toBe('mean');
    expect(solved.firstN).toBe(solved.meanN);
    expect(solved.p95N).toBe(null);
  });

  it('load along the bar: F / (2 L) per mm, and it adds up to half the load', () => {
    const profile = lengthwiseProfile(seated, 'right');
    const spacing = seated.samples.lengthMm / seated.samples.rows;
    for (const n of profile.loadNPerMm) expect(n).toBeCloseTo(seated.loadN / 1000, 6);
    expect(profile.loadNPerMm.reduce((a, b) => a + b, 0) * spacing).toBeCloseTo(seated.loadN / 2, 4);
    for (const gap of profile.bearingGapMm) expect(gap).toBeCloseTo(-squeeze, 7);
  });
});

describe('crosswise mismatch', () => {
  const roofBack = (deg: number) =>
    analyticBack(roofField(deg * RADIANS), (_x, y) => -Math.abs(y) * Math.tan(deg * RADIANS));
  const laid = (barDeg: number, backDeg: number): SeatedTree =>
    seatTree(treeOf(plainShape({ slopeRad: barDeg * RADIANS })), roofBack(backDeg), setup, { laidOn: true });

  for (const [bar, back] of [
    [36, 30],
    [30, 36],
    [33, 33],
  ]) {
    it(`bar ${bar}, back ${back} degrees: ${bar - back} on both sides, within 0.01`, () => {
      const seated = laid(bar, back);
      expect(seated.status).toBe('settled');
      const { stations } = measureMismatch(seated);
      expect(stations.map((s) => s.side).sort()).toEqual(['left', 'right']);
      for (const s of stations) {
        expect(Math.abs(s.barSlopeDeg - bar)).toBeLessThan(0.01);
        expect(Math.abs(s.backSlopeDeg - back)).toBeLessThan(0.01);
        expect(Math.abs(s.mismatchDeg - (bar - back))).toBeLessThan(0.01);
      }
    });
  }

  it('scenarios 8 and 9: too steep bears on the outer edge with the inner clear, too flat the other way', () => {
    const gaps = ([36, 30] as const).map((bar) => {
      const seated = laid(bar, bar === 36 ? 30 : 36);
      const { innerGapMm, outerGapMm } = lengthwiseProfile(seated, 'right');
      return { inner: innerGapMm[56], outer: outerGapMm[56] };
    });
    expect(gaps[0].inner).toBeGreaterThan(5);
    expect(gaps[0].outer).toBeLessThan(0.1);
    expect(gaps[1].outer).toBeGreaterThan(5);
    expect(gaps[1].inner).toBeLessThan(0.1);
  });
});

describe('lengthwise mismatch of level bars laid on a valley (Euclidean distance = sagitta at the middle)', () => {
  const L = 500;
  const valley = (radius: number) =>
    analyticBack(cylinderField([L / 2, 0, radius], [0, 1, 0], radius, 'valley'), (x) => {
      const u = x - L / 2;
      return radius - Math.sqrt(radius * radius - u * u);
    });
  const sagitta = (r: number): number => r - Math.sqrt(r * r - (L * L) / 4);
  const laid = (rock: number) =>
    seatTree(treeOf(plainShape({ slopeRad: 0, rockCurvaturePerMm: 1 / rock })), valley(1450), setup, { laidOn: true });

  it('rock 2500 in R 1450 bridges by the exact sagitta difference, within 0.15 mm of squeeze (scenario 3)', () => {
    const { lengthwiseLeftMm, lengthwiseRightMm } = measureMismatch(laid(2500));
    for (const mm of [lengthwiseLeftMm, lengthwiseRightMm]) {
      expect(Math.abs(mm! - (sagitta(1450) - sagitta(2500)))).toBeLessThan(0.15);
      expect(Math.abs(mm! / (((L * L) / 8) * (1 / 1450 - 1 / 2500)) - 1)).toBeLessThan(0.15);
    }
  });

  it('rock 1000 in R 1450 rocks: negative, within 1 % of the Euclidean gap at its ends (scenario 2)', () => {
    // Touching at the low point: the end (L/2, sagitta(1000)) lies R - hypot(L/2, R - sagitta) off the valley.
    const end = 1450 - Math.hypot(L / 2, 1450 - sagitta(1000));
    const { lengthwiseLeftMm } = measureMismatch(laid(1000));
    expect(lengthwiseLeftMm! / -end).toBeCloseTo(1, 2);
  });

  it('equal radii read 0 within 0.01 mm', () => {
    expect(Math.abs(measureMismatch(laid(1450)).lengthwiseLeftMm!)).toBeLessThan(0.01);
  });
});
