import { describe, expect, it } from 'vitest';
import { buildSectionsBack } from '../back/build-sections-back.ts';
import { type DemoBack, demoBack } from '../back/demo-backs.fixture.ts';
import { demoTree } from '../bar/demo-tree.fixture.ts';
import { sampleBars } from '../bar/index.ts';
import { seededRandom } from '../numeric/index.ts';
import { createFootRows } from '../spatial/index.ts';
import { foundation } from './foundation.fixture.ts';
import { loadPoint } from './loads.ts';
import type { Pose } from './pose.ts';
import { seatBody, seatBodyQuickly } from './seat.ts';
import { seatTree } from './seat-tree.ts';
import { SETUP_DEFAULTS } from './setup-schema.ts';
import { shiftRows } from './shift-rows.ts';
import { thinBody } from './thin-body.ts';

const BACKS: readonly DemoBack[] = ['dumpling', 'heron', 'tuesday'];
const PATTERNS = ['wren', 'post', 'rail'] as const;

/** 931.6 N on 1.364 kPa/mm, and 147 N on a near-rigid layer: what a fit settles. */
const CASES = [
  { name: 'loaded', stack: foundation(1.364e-3, 20), newtons: 931.6 },
  { name: 'near-rigid', stack: foundation(0.6), newtons: 147 },
] as const;

describe('the quick way ends where the safeguarded Newton ends (seed 61)', () => {
  for (const back of BACKS) {
    for (const pattern of PATTERNS) {
      it(`${pattern} on ${back}: pose within 1e-6 mm, pressures within 1e-7 of the highest, data of the same cells`, () => {
        const surface = buildSectionsBack(demoBack(back));
        const tree = demoTree(pattern);
        const samples = sampleBars(tree.left, tree.right, { samples: 4000 });
        const random = seededRandom(61);
        for (const { stack, newtons } of CASES) {
          const loads = [{ pointMm: loadPoint(tree, SETUP_DEFAULTS), forceN: [0, 0, -newtons] }] as const;
          const laid = stack.thicknessMm === 0;
          const near = seatTree(tree, surface, SETUP_DEFAULTS, { samples, laidOn: laid }).seat.pose;
          const start: Pose = { ...near, zMm: near.zMm + random() - 0.5, pitchRad: near.pitchRad + 0.004 * random() };
          const plain = seatBody(samples, surface.fast, stack, loads, start, { mostSteps: 80 });
          const quick = seatBodyQuickly(samples, surface.fast, stack, loads, start);
          expect(plain.status).toBe('settled');
          if (quick === null) return expect.fail('the quick way did not serve');
          expect(quick.relativeResidual).toBeLessThan(1e-8);
          expect(Math.abs(quick.pose.zMm - plain.pose.zMm)).toBeLessThan(1e-6);
          expect(Math.abs(quick.pose.pitchRad - plain.pose.pitchRad)).toBeLessThan(1e-8);
          expect(Math.abs(quick.pose.rollRad - plain.pose.rollRad)).toBeLessThan(1e-8);
          expect([...quick.mask]).toEqual([...plain.mask]);
          const highest = plain.pressureMPa.reduce((a, b) => Math.max(a, b), 0);
          const apart = quick.pressureMPa.reduce(
            (worst, p, i) => Math.max(worst, Math.abs(p - plain.pressureMPa[i])),
            0,
          );
          expect(apart / highest).toBeLessThan(laid ? 1e-5 : 1e-7);
        }
      });
    }
  }

  it('answers null, not a wrong pose, where nothing can be reached: far above the data', () => {
    const surface = buildSectionsBack(demoBack('tuesday'));
    const tree = demoTree('post');
    const samples = sampleBars(tree.left, tree.right, { samples: 2000 });
    const away: Pose = { xMm: 5000, yMm: 0, zMm: 100, rollRad: 0, pitchRad: 0, yawRad: 0 };
    const loads = [{ pointMm: [0, 0, 0], forceN: [0, 0, -900] }] as const;
    expect(seatBodyQuickly(samples, surface.fast, CASES[0].stack, loads, away)).toBeNull();
  });
});

describe('shiftRows', () => {
  it('agrees with a new look: distances to 1e-9 mm after moves of 1e-4 mm, error falling with the square (seed 62)', () => {
    const surface = buildSectionsBack(demoBack('tuesday'));
    const tree = demoTree('post');
    const { seat, samples } = seatTree(tree, surface, { ...SETUP_DEFAULTS, samples: 2000 });
    const errorAfter = (mm: number): number => {
      const random = seededRandom(62);
      const to = seat.placedMm.map((p) => p + mm * (2 * random() - 1));
      const moved = createFootRows(samples.count);
      const fresh = createFootRows(samples.count);
      for (const bar of samples.bars) {
        surface.fast.evaluate(seat.placedMm, bar.from, bar.to, bar.side, moved, true);
        surface.fast.evaluate(to, bar.from, bar.to, bar.side, fresh, true);
      }
      shiftRows(moved, seat.placedMm, to, Number.POSITIVE_INFINITY);
      let worst = 0;
      for (let i = 0; i < samples.count; i++) {
        if (moved.hasData[i] === 0 || fresh.hasData[i] === 0) continue;
        worst = Math.max(worst, Math.abs(moved.distanceMm[i] - fresh.distanceMm[i]));
      }
      return worst;
    };
    expect(errorAfter(1e-4)).toBeLessThan(1e-9);
    expect(errorAfter(1e-1)).toBeGreaterThan(20 * errorAfter(1e-2));
  });
});

describe('thinBody', () => {
  it('keeps each bar and its area, with about one cell in twenty', () => {
    const tree = demoTree('wren');
    const samples = sampleBars(tree.left, tree.right, { samples: 5000 });
    const thin = thinBody(samples, 20);
    expect(thin.count / samples.count).toBeCloseTo(1 / 20, 2);
    samples.bars.forEach((bar, b) => {
      const area = (areas: Float64Array, from: number, to: number): number =>
        areas.slice(from, to).reduce((sum, a) => sum + a, 0);
      const kept = thin.bars[b];
      expect(kept.side).toBe(bar.side);
      expect(area(thin.areaMm2, kept.from, kept.to)).toBeCloseTo(area(samples.areaMm2, bar.from, bar.to), 6);
    });
  });
});
