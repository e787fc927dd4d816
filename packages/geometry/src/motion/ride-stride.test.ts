import { describe, expect, it } from 'vitest';
import { buildSectionsBack } from '../back/index.ts';
import { demoDocument, demoPatternTree, evenDocument, scenarioSetup } from '../findings/scenario.fixture.ts';
import { seatTree, tipFigures } from '../seating/index.ts';
import { rideStride } from './ride-stride.ts';
import { solveTip, withFrontTip } from './solve-tip.ts';
import { strideOf } from './stride.ts';

const setup = scenarioSetup();
const post = demoPatternTree('post');
const raised = (heightMm: number) => ({
  ...evenDocument('tuesday'),
  bladeBulge: { left: { heightMm }, right: { heightMm } },
});
const even = buildSectionsBack(raised(12));

describe('a stride', () => {
  const run = rideStride(post, even, setup, strideOf(even, { phases: 12 }));

  it('settles at every phase, and at every phase the back carries the whole load to 1e-6', () => {
    for (const { status, appliedN, supportedN } of run.phases) {
      expect(status).toBe('settled');
      expect(Math.abs(supportedN / appliedN - 1)).toBeLessThan(1e-6);
    }
  });

  it('each phase is the tree seated on the back built with its blades there (charts built afresh, 0.01 mm)', () => {
    for (const { bladeLeftMm, bladeRightMm, heightMm, pitchDeg, rollDeg, tips } of run.phases.slice(0, 7)) {
      const built = buildSectionsBack(raised(12), { leftMm: bladeLeftMm, rightMm: bladeRightMm });
      const { pose } = seatTree(post, built, setup).seat;
      expect(Math.abs(pose.zMm - heightMm)).toBeLessThan(0.01);
      expect(Math.abs((pose.pitchRad * 180) / Math.PI - pitchDeg)).toBeLessThan(0.002);
      expect(Math.abs((pose.rollRad * 180) / Math.PI - rollDeg)).toBeLessThan(0.002);
      const [left] = tipFigures(seatTree(post, built, setup));
      expect(Math.abs(left.bearingGapMm! - tips[0].bearingGapMm!)).toBeLessThan(0.02);
    }
  });

  it('half a stride later left and right have changed places on an even-sided back', () => {
    for (let i = 0; i < 6; i++) {
      const [here, there] = [run.phases[i]!, run.phases[i + 6]!];
      expect(there.rollDeg).toBeCloseTo(-here.rollDeg, 4);
      expect(there.pitchDeg).toBeCloseTo(here.pitchDeg, 4);
      expect(there.contact.shareLeft).toBeCloseTo(here.contact.shareRight, 5);
      for (const at of ['innerGapMm', 'bearingGapMm', 'outerGapMm'] as const) {
        expect(there.tips[1][at]!).toBeCloseTo(here.tips[0][at]!, 3);
      }
    }
    expect(run.tips[0].leastGapMm!).toBeCloseTo(run.tips[1].leastGapMm!, 3);
  });

  it('a patch of no height moves nothing: every phase is the standing one', () => {
    const flat = buildSectionsBack(raised(0));
    const { phases } = rideStride(post, flat, setup, strideOf(flat, { phases: 4 }));
    for (const { heightMm, pitchDeg, tips } of phases) {
      expect(heightMm).toBeCloseTo(phases[0]!.heightMm, 5);
      expect(pitchDeg).toBeCloseTo(phases[0]!.pitchDeg, 5);
      expect(tips[0].bearingGapMm!).toBeCloseTo(phases[0]!.tips[0].bearingGapMm!, 4);
    }
  });

  it('no swing, but a patch that rises, presses more under the tip', () => {
    const still = rideStride(post, even, setup, strideOf(even, { phases: 4, swingLeftMm: 0, swingRightMm: 0 }));
    const rising = rideStride(
      post,
      even,
      setup,
      strideOf(even, { phases: 4, swingLeftMm: 0, swingRightMm: 0, riseMm: 8 }),
    );
    expect(rising.tips[0].leastGapMm!).toBeLessThan(still.tips[0].leastGapMm! - 1);
  });
});

describe('TRADE 8.13: flare 0 and 18 mm with the leg forward', () => {
  const back = buildSectionsBack(demoDocument('tuesday'));
  const stride = strideOf(back, { phases: 12 });
  const [none, flared] = [0, 18].map((lift) => rideStride(withFrontTip(post, 75, lift), back, setup, stride));

  it('the tip without flare presses harder under the blade, on both sides, and the load is whole in both', () => {
    for (const side of [0, 1] as const) {
      expect(none!.tips[side].highestPressureKPa).toBeGreaterThan(flared!.tips[side].highestPressureKPa);
      expect(none!.tips[side].leastGapMm!).toBeLessThan(flared!.tips[side].leastGapMm! - 5);
    }
    for (const { phases } of [none!, flared!]) {
      for (const { appliedN, supportedN } of phases) expect(Math.abs(supportedN / appliedN - 1)).toBeLessThan(0.01);
    }
  });

  it('creeping 25 mm forward presses more under the tip zones, though the front rises and the edges gain clearance', () => {
    const crept = rideStride(post, back, { ...setup, setPositionMm: setup.setPositionMm - 25 }, stride);
    expect(crept.phases[0]!.pitchDeg).toBeGreaterThan(flared!.phases[0]!.pitchDeg + 0.5);
    for (const side of [0, 1] as const) {
      expect(crept.tips[side].highestPressureKPa).toBeGreaterThan(flared!.tips[side].highestPressureKPa);
      expect(crept.tips[side].leastGapMm!).toBeGreaterThan(flared!.tips[side].leastGapMm!);
    }
  });
});

describe('the tip solved', () => {
  const stride = strideOf(even, { phases: 12 });
  const solved = solveTip(post, even, setup, stride, { wantedMm: 3, zonesMm: [60, 90] });

  it('every solved lift reaches the wanted clearance in a run of its own, and 1 mm less does not', () => {
    for (const { zoneMm, option } of solved.options) {
      expect(option).not.toBeNull();
      const again = rideStride(withFrontTip(post, zoneMm, option!.liftMm), even, setup, stride);
      const least = Math.min(again.tips[0].leastGapMm!, again.tips[1].leastGapMm!);
      expect(least).toBeCloseTo(option!.leastGapMm!, 6);
      expect(least).toBeGreaterThanOrEqual(3);
      expect(least).toBeLessThan(3.5);
      const lower = rideStride(withFrontTip(post, zoneMm, option!.liftMm - 1), even, setup, stride);
      expect(Math.min(lower.tips[0].leastGapMm!, lower.tips[1].leastGapMm!)).toBeLessThan(3);
    }
  });

  it('a longer zone costs underside: 2 x 30 mm of it, and contact standing', () => {
    const [short, long] = solved.options.map(({ option }) => option!);
    const width = (short!.bearingCm2 - long!.bearingCm2) / (2 * 3);
    expect(width).toBeGreaterThan(12);
    expect(width).toBeLessThan(17);
    expect(long!.contactCm2).toBeLessThan(short!.contactCm2);
  });

  it('a clearance that no lift gives is not given: no option', () => {
    expect(solveTip(post, even, setup, stride, { wantedMm: 200, zonesMm: [75] }).options[0]!.option).toBeNull();
  });
});
