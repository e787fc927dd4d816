import { describe, expect, it } from 'vitest';
import { buildSectionsBack } from '../back/build-sections-back.ts';
import { type DemoBack, demoBack } from '../back/demo-backs.fixture.ts';
import { demoTree } from '../bar/demo-tree.fixture.ts';
import { seededRandom } from '../numeric/index.ts';
import { createFootRows } from '../spatial/index.ts';
import { analyticField, planeField, torusField, torusHeight } from './analytic-fields.fixture.ts';
import { contactForce, ORIGIN, patchBody, totalMoment, weight } from './bodies.fixture.ts';
import { type Load, placePoints } from './contact-energy.ts';
import { foundation } from './foundation.fixture.ts';
import { type Seat, seatBody } from './seat.ts';
import { type SeatedTree, seatTree } from './seat-tree.ts';
import { SETUP_DEFAULTS, type Setup } from './setup-schema.ts';

const setupOf = (over: Partial<Setup>, load: Partial<Setup['load']> = {}): Setup => ({
  ...SETUP_DEFAULTS,
  samples: 1500,
  ...over,
  load: { ...SETUP_DEFAULTS.load, ...load },
});

const BACKS: readonly DemoBack[] = ['dumpling', 'heron', 'tuesday'];
const built = new Map(BACKS.map((name) => [name, buildSectionsBack(demoBack(name))]));

/** Force left over along z and moments left over about the horse's own x and y through the held point, as shares of the load. */
function imbalance({ samples, seat, loads, loadN }: SeatedTree): { force: number; moment: number } {
  const placedLoads = new Float64Array(3 * loads.length);
  placePoints(Float64Array.from(loads.flatMap((l) => l.pointMm)), seat.pose, placedLoads);
  const [mx, my] = totalMoment(samples, seat, loads, placedLoads);
  return {
    force: Math.abs(contactForce(samples, seat)[2] - loadN) / loadN,
    moment: Math.hypot(mx, my) / (100 * loadN),
  };
}

describe('balance on the demo backs', () => {
  for (const name of BACKS) {
    it(`${name}: vertical force and both free moments to 1e-6 of the load (fast path, seed 51, 8 loads and places)`, () => {
      const random = seededRandom(51);
      const between = (a: number, b: number): number => a + (b - a) * random();
      let settled = 0;
      for (let i = 0; i < 8; i++) {
        const setup = setupOf(
          { setPositionMm: between(-60, 0), shiftMm: between(-10, 10), yawDeg: between(-3, 3) },
          {
            riderKg: between(40, 160),
            factor: between(0.7, 2.5),
            at: between(35, 60),
            offsetMm: between(-30, 30),
            heightMm: between(0, 600),
          },
        );
        const seated = seatTree(demoTree((['wren', 'post', 'rail'] as const)[i % 3]), built.get(name)!, setup);
        expect(Number.isFinite(seated.seat.pose.zMm + seated.seat.pose.rollRad + seated.seat.pose.pitchRad)).toBe(true);
        if (seated.status !== 'settled') continue;
        settled++;
        const left = imbalance(seated);
        expect(left.force).toBeLessThan(1e-6);
        expect(left.moment).toBeLessThan(1e-6);
      }
      expect(settled).toBeGreaterThanOrEqual(6);
    });
  }

  it('up and down hill, girth and one stirrup pulled: balance to 1e-6 of the load (Post on Tuesday, seed 53, 8 cases)', () => {
    const random = seededRandom(53);
    const between = (a: number, b: number): number => a + (b - a) * random();
    for (let i = 0; i < 8; i++) {
      const pull = { heightMm: -60, rearN: 0, rightN: 0 };
      const pulls = [
        { ...pull, name: 'girth left', at: 25, offsetMm: -180, downN: between(50, 300) },
        { ...pull, name: 'girth right', at: 25, offsetMm: 180, downN: between(50, 300) },
        { ...pull, name: 'stirrup', at: 45, offsetMm: -200, rearN: 20, rightN: -30, downN: between(0, 120) },
      ];
      const setup = setupOf({}, { riseDeg: between(-15, 15), pulls });
      const seated = seatTree(demoTree('post'), built.get('tuesday')!, setup);
      expect(seated.status).toBe('settled');
      const weight = 95 * 9.80665 * Math.cos((setup.load.riseDeg * Math.PI) / 180);
      expect(seated.loadN).toBeCloseTo(
        pulls.reduce((sum, { downN }) => sum + downN, weight),
        6,
      );
      const left = imbalance(seated);
      expect(left.force).toBeLessThan(1e-6);
      expect(left.moment).toBeLessThan(1e-6);
    }
  });

  it('exact path: the same balance to 1e-6', () => {
    const seated = seatTree(demoTree('post'), built.get('tuesday')!, setupOf({ path: 'exact', samples: 600 }));
    expect(seated.status).toBe('settled');
    const left = imbalance(seated);
    expect(left.force).toBeLessThan(1e-6);
    expect(left.moment).toBeLessThan(1e-6);
  });

  it('fast and exact paths settle within 0.01 mm and 0.001 degrees of each other', () => {
    const [fast, exact] = (['fast', 'exact'] as const).map(
      (path) => seatTree(demoTree('post'), built.get('tuesday')!, setupOf({ path, samples: 600 })).seat.pose,
    );
    expect(Math.abs(fast.zMm - exact.zMm)).toBeLessThan(0.01);
    expect(Math.abs(fast.pitchRad - exact.pitchRad)).toBeLessThan(2e-5);
    expect(Math.abs(fast.rollRad - exact.rollRad)).toBeLessThan(2e-5);
  });

  it('the end does not depend on the start: five starts within 1e-5 mm of one pose (seed 52)', () => {
    const random = seededRandom(52);
    const setup = setupOf({});
    const tree = demoTree('post');
    const first = seatTree(tree, built.get('heron')!, setup).seat.pose;
    for (let i = 0; i < 5; i++) {
      const start = {
        ...first,
        zMm: first.zMm + 10 * (random() - 0.3),
        pitchRad: first.pitchRad + 0.04 * (random() - 0.5),
        rollRad: first.rollRad + 0.04 * (random() - 0.5),
      };
      const { pose } = seatTree(tree, built.get('heron')!, setup, { start }).seat;
      expect(Math.abs(pose.zMm - first.zMm)).toBeLessThan(1e-5);
      expect(Math.abs(pose.pitchRad - first.pitchRad)).toBeLessThan(1e-7);
      expect(Math.abs(pose.rollRad - first.rollRad)).toBeLessThan(1e-7);
    }
  });
});

describe('the quick way and the safeguarded one', () => {
  for (const name of BACKS) {
    it(`${name}: end at one pose for all three bars, 1e-5 mm and 1e-7 rad, with the same cells pressed`, () => {
      for (const bars of ['wren', 'post', 'rail'] as const) {
        // Many cells take the quick approach; counting steps switches it off.
        const quick = seatTree(demoTree(bars), built.get(name)!, setupOf({ samples: 3000 }));
        const { samples, stack, loads, back, seat } = quick;
        const start = { ...seat.pose, zMm: seat.pose.zMm + 6, pitchRad: 0, rollRad: 0 };
        const slow = seatBody(samples, back.fast, stack, loads, start, { mostSteps: 200 });
        expect(quick.status).toBe('settled');
        expect(slow.status).toBe('settled');
        expect(Math.abs(slow.pose.zMm - seat.pose.zMm)).toBeLessThan(1e-5);
        expect(Math.abs(slow.pose.pitchRad - seat.pose.pitchRad)).toBeLessThan(1e-7);
        expect(Math.abs(slow.pose.rollRad - seat.pose.rollRad)).toBeLessThan(1e-7);
        for (let i = 0; i < samples.count; i++) {
          expect(Math.abs(slow.pressureMPa[i] - seat.pressureMPa[i])).toBeLessThan(1e-7);
        }
      }
    });
  }

  it('reported distances belong to the reported pose: asked again there, pressed cells the same to 1e-8 mm, others within 0.001', () => {
    const { seat, samples, back } = seatTree(demoTree('post'), built.get('heron')!, setupOf({ samples: 3000 }));
    const rows = createFootRows(samples.count);
    const placed = new Float64Array(3 * samples.count);
    placePoints(samples.pointsMm, seat.pose, placed);
    for (const bar of samples.bars) back.fast.evaluate(placed, bar.from, bar.to, bar.side, rows, false);
    // Clear cells may keep a foot of the last look where two are almost equally near: within the fast path's own error.
    for (let i = 0; i < samples.count; i++) {
      expect(rows.hasData[i]).toBe(seat.mask[i]);
      if (rows.hasData[i] === 0) continue;
      const off = Math.abs(rows.distanceMm[i] - seat.rows.distanceMm[i]);
      expect(off).toBeLessThan(seat.pressureMPa[i] > 0 ? 1e-8 : 1e-3);
      for (let a = 3 * i; a < 3 * i + 3; a++) expect(Math.abs(placed[a] - seat.placedMm[a])).toBeLessThan(1e-9);
    }
  });
});

describe('going downhill', () => {
  const body = patchBody({
    lengthMm: 400,
    widthMm: 100,
    nx: 40,
    ny: 12,
    heightMm: (x, y) => torusHeight(1300, 320, x, y),
  });
  const loads: readonly Load[] = [weight(700, 30, 8, 150)];
  const start = { ...ORIGIN, zMm: 3, pitchRad: 0.05, rollRad: -0.04 };
  const run = (mostSteps?: number): Seat =>
    seatBody(
      body,
      torusField(1000, 300),
      foundation(0.002, 20),
      loads,
      start,
      mostSteps === undefined ? {} : { mostSteps },
    );

  it('the energy falls with every Newton step allowed, to the minimum', () => {
    // Eight mask passes of n steps each; the last polish balances about level axes and may move the energy by rounding.
    const energies = [0, 1, 2, 4, 8].map((n) => run(n).equilibrium.energy);
    const floor = run().equilibrium.energy;
    for (let i = 1; i < energies.length; i++) expect(energies[i]).toBeLessThanOrEqual(energies[i - 1] + 1e-6);
    expect(energies[0]).toBeGreaterThan(floor);
    expect(energies[energies.length - 1] - floor).toBeLessThan(1e-3);
  });

  it('the settled pose is a minimum: every small move of the free unknowns costs energy (seed 53)', () => {
    const seat = run();
    expect(seat.status).toBe('settled');
    const random = seededRandom(53);
    for (let i = 0; i < 20; i++) {
      const moved = {
        ...seat.pose,
        zMm: seat.pose.zMm + 0.2 * (random() - 0.5),
        pitchRad: seat.pose.pitchRad + 2e-3 * (random() - 0.5),
        rollRad: seat.pose.rollRad + 2e-3 * (random() - 0.5),
      };
      const there = seatBody(body, torusField(1000, 300), foundation(0.002, 20), loads, moved, { free: [] });
      expect(there.equilibrium.energy).toBeGreaterThan(seat.equilibrium.energy);
    }
  });
});

describe('how a seating can end', () => {
  const block = patchBody({ lengthMm: 200, widthMm: 60, nx: 20, ny: 6 });

  it("'settled' with residual, load and pressures that agree", () => {
    const seat = seatBody(block, planeField(), foundation(0.03), [weight(360)], { ...ORIGIN, zMm: 5 });
    expect(seat.status).toBe('settled');
    expect(seat.relativeResidual).toBeLessThan(1e-6);
    expect(contactForce(block, seat)[2]).toBeCloseTo(360, 3);
  });

  it("'no contact' where the back has no data at all, with numbers and not NaN", () => {
    const nowhere = analyticField(
      () => ({ d: Number.NaN, n: [0, 0, 1], bends: [] }),
      () => false,
    );
    const seat = seatBody(block, nowhere, foundation(0.03), [weight(360)], ORIGIN);
    expect(seat.status).toBe('no contact');
    expect(Number.isFinite(seat.pose.zMm)).toBe(true);
    expect(Math.max(...seat.pressureMPa)).toBe(0);
  });

  it("'iteration limit' when the residual asked for is out of reach, with the pose it got to", () => {
    const seat = seatBody(block, torusField(1000, 300), foundation(0.03), [weight(360, 20, 5)], ORIGIN, {
      tolerance: 1e-30,
    });
    expect(seat.status).toBe('iteration limit');
    expect(seat.relativeResidual).toBeGreaterThan(1e-30);
    expect(contactForce(block, seat)[2]).toBeCloseTo(360, 3);
  });

  it("'iteration limit' for a load that no place of the body can carry", () => {
    const tipping = seatBody(
      block,
      planeField(),
      foundation(0.03),
      [weight(360, 900, 0, 400)],
      { ...ORIGIN, zMm: -1 },
      { mostSteps: 3 },
    );
    expect(tipping.status).not.toBe('settled');
    expect(Number.isFinite(tipping.pose.pitchRad)).toBe(true);
  });

  it("'off the data' where pressed cells border on cells without data (scenario 21)", () => {
    const doc = demoBack('tuesday');
    const from = doc.stationsMm.indexOf(100);
    const to = doc.stationsMm.indexOf(400) + 1;
    const short = buildSectionsBack({
      ...doc,
      stationsMm: doc.stationsMm.slice(from, to),
      bearingHeightMm: doc.bearingHeightMm.slice(from, to),
      slopeDeg: doc.slopeDeg.slice(from, to),
    });
    const seated = seatTree(demoTree('rail'), short, setupOf({}));
    expect(seated.status).toBe('off the data');
    const { mask, pressureMPa, placedMm } = seated.seat;
    const out = Array.from(mask, (m, i) => (m === 0 ? placedMm[3 * i] : Number.NaN)).filter((x) => !Number.isNaN(x));
    expect(out.length).toBeGreaterThan(0.3 * mask.length);
    expect(out.every((x) => x < 130 || x > 370)).toBe(true);
    for (let i = 0; i < mask.length; i++) if (mask[i] === 0) expect(pressureMPa[i]).toBe(0);
    // The whole back under the same tree is not off its data.
    expect(seatTree(demoTree('rail'), built.get('tuesday')!, setupOf({})).status).toBe('settled');
  });

  it('a tree set wholly beside the data has no contact and still finite numbers', () => {
    const seated = seatTree(demoTree('post'), built.get('tuesday')!, setupOf({ setPositionMm: 5000 }));
    expect(seated.status).toBe('no contact');
    expect(Number.isFinite(seated.seat.pose.zMm)).toBe(true);
  });
});
