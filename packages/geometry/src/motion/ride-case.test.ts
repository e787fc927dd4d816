import { describe, expect, it } from 'vitest';
import { createSurfaceJet, type Lift, viewOn } from '../back/index.ts';
import { codesOf, demoPatternTree, evenBack, scenarioSetup } from '../findings/scenario.fixture.ts';
import { seededRandom } from '../numeric/index.ts';
import { holdPosture, STANDING_SQUARE } from './posture.ts';
import { backOfCase, createCaseBacks, rideCase } from './ride-case.ts';
import { readRiding, ridingCaseSchema } from './riding-schema.ts';
import { RIDING_SETS } from './riding-sets.ts';

const back = evenBack('tuesday');
const backs = createCaseBacks(back);
const post = demoPatternTree('post');
const setup = scenarioSetup();
const ridden = (change: Record<string, unknown>) =>
  rideCase(post, backs, setup, ridingCaseSchema.parse({ name: 'case', ...change })).fit.result;

describe('kinds of riding', () => {
  it('every case of every set settles on Tuesday and Heron, and the back carries what is applied to 1e-6', () => {
    for (const on of [backs, createCaseBacks(evenBack('heron'))]) {
      for (const riding of RIDING_SETS.flatMap(({ cases }) => cases)) {
        const { status, load } = rideCase(post, on, setup, riding).fit.result;
        expect([riding.name, status]).toEqual([riding.name, 'settled']);
        expect(load.residualN / load.appliedN).toBeLessThan(1e-6);
        expect(load.residualMomentNmm / (100 * load.appliedN)).toBeLessThan(1e-6);
      }
    }
  });

  it('every case says where its figures come from, and reads back as written', () => {
    for (const set of RIDING_SETS) {
      expect(readRiding(JSON.parse(JSON.stringify(set)))).toEqual(set);
      for (const { source } of set.cases) expect(source.length).toBeGreaterThan(8);
    }
  });

  it('standing square is the setup itself', () => {
    const { pose, contact } = ridden({});
    const { pose: own, contact: plain } = rideCase(post, backs, setup, RIDING_SETS[0]!.cases[0]!).fit.result;
    expect(pose).toEqual(own);
    expect(contact).toEqual(plain);
  });

  it('hills: 1.2 x 95 kg x sin 15 degrees more to be held, towards the front uphill and to the rear downhill', () => {
    const level = ridden({ factor: 1.2 }).reactions.xN;
    const weight = 1.2 * 95 * 9.80665 * Math.sin(Math.PI / 12);
    expect(Math.abs((level - ridden({ factor: 1.2, riseDeg: 15 }).reactions.xN) / weight - 1)).toBeLessThan(0.2);
    expect(Math.abs((ridden({ factor: 1.2, riseDeg: -15 }).reactions.xN - level) / weight - 1)).toBeLessThan(0.2);
  });

  it('one stirrup: left and right mirror each other on an even back, and the loaded side carries most', () => {
    const left = ridden({ weightIn: 'left stirrup', girthN: 120 });
    const right = ridden({ weightIn: 'right stirrup', girthN: 120 });
    expect(left.contact.shareLeft).toBeGreaterThan(0.65);
    expect(right.contact.shareRight).toBeCloseTo(left.contact.shareLeft, 5);
    expect(right.pose.rollDeg).toBeCloseTo(-left.pose.rollDeg, 4);
    expect(left.load.appliedN).toBeCloseTo(95 * 9.80665 + 240, 6);
  });

  it('leaning to a side loads that side and rolls the tree down there', () => {
    const lean = ridden({ offsetMm: 20 });
    expect(lean.contact.shareRight).toBeGreaterThan(0.53);
    expect(lean.pose.rollDeg).toBeLessThan(-0.3);
  });

  it('a dipped back bridges the tree that lay level, an arched one rocks it', () => {
    expect(codesOf(ridden({}).findings)).not.toContain('bridging');
    expect(codesOf(ridden({ archMm: -12 }).findings)).toContain('bridging');
    expect(codesOf(ridden({ archMm: 14 }).findings)).toContain('rocking');
    const [still, dipped, arched] = [0, -12, 14].map((archMm) => ridden({ archMm }).contact.shareMiddle);
    expect(dipped!).toBeLessThan(still!);
    expect(arched!).toBeGreaterThan(still!);
  });

  it('a wider back lifts the tree, whose slopes no longer meet it', () => {
    expect(ridden({ widenMm: 12 }).pose.heightMm).toBeGreaterThan(ridden({}).pose.heightMm + 3);
  });

  it('a case of its own legs and posture: patches move, heights rise where they should', () => {
    const on = backOfCase(back, ridingCaseSchema.parse({ name: 'both', archMm: 10, legForward: 'left' }));
    expect(on.landmarks.bladeEdgeLeft[0]).toBe(back.landmarks.bladeEdgeLeft[0] + back.blades.swingMm);
    expect(on.landmarks.bladeEdgeRight[0]).toBe(back.landmarks.bladeEdgeRight[0]);
    const middle = back.landmarks.lastRib[0] / 2;
    expect(on.heightMm(middle, 100) - back.heightMm(middle, 100)).toBeCloseTo(10, 9);
  });

  it.each([
    [{ name: 'x', factor: 99 }, 'factor'],
    [{ name: 'x', weightIn: 'saddlebag' }, 'weightIn'],
    [{ name: '' }, 'name'],
  ])('refuses %j', (bad, field) => {
    expect(() => readRiding({ schema: 'barwright/riding/1', name: 'bad', cases: [bad] })).toThrowError(
      new RegExp(field),
    );
  });
});

describe('postures', () => {
  it('flattened by 100 percent the bearing line is straight: both ends as high as the middle', () => {
    const flat = holdPosture(back, { ...STANDING_SQUARE, flattenPercent: 100 });
    const length = back.landmarks.lastRib[0];
    const [front, middle, rear] = [0, length / 2, length].map((x) => flat.heightMm(x, 120));
    expect((front! + rear!) / 2).toBeCloseTo(middle!, 6);
  });

  it('flatter by 3 degrees: the bearing line stays, slopes between crest and flank fall by about 3', () => {
    const flatter = holdPosture(back, { ...STANDING_SQUARE, flatterDeg: 3 });
    expect(flatter.heightMm(200, 120)).toBeCloseTo(back.heightMm(200, 120), 9);
    const slope = (of: typeof back): number =>
      (Math.atan((of.heightMm(200, 70) - of.heightMm(200, 170)) / 100) * 180) / Math.PI;
    expect(slope(back) - slope(flatter)).toBeGreaterThan(2.5);
    expect(slope(back) - slope(flatter)).toBeLessThan(3.5);
  });

  it('none at all is the very same back', () => {
    expect(holdPosture(back, STANDING_SQUARE)).toBe(back);
  });

  it('derivatives of every field agree with differences (seed 91, 60 places)', () => {
    const lifts: Lift[] = [];
    const spy = viewOn(back, {
      lifted: (lift) => {
        lifts.push(lift);
        return back;
      },
    });
    for (const posture of [
      { archMm: 12 },
      { flattenPercent: 40 },
      { widenMm: 9 },
      { flatterDeg: 3 },
      { archMm: -7, flattenPercent: 20, widenMm: 5, flatterDeg: -2 },
    ]) {
      holdPosture(spy, { ...STANDING_SQUARE, ...posture });
    }
    expect(lifts).toHaveLength(5);
    const random = seededRandom(91);
    for (const lift of lifts) {
      for (let i = 0; i < 60; i++) {
        const [x, y] = [20 + 460 * random(), (30 + 170 * random()) * (random() < 0.5 ? -1 : 1)];
        const jet = { ...lift.jet(x, y, createSurfaceJet()) };
        const h = 1e-3;
        const [e, w, n, s] = [lift.at(x + h, y), lift.at(x - h, y), lift.at(x, y + h), lift.at(x, y - h)];
        expect(jet.z).toBeCloseTo(lift.at(x, y), 10);
        expect(jet.zx).toBeCloseTo((e - w) / (2 * h), 6);
        expect(jet.zy).toBeCloseTo((n - s) / (2 * h), 6);
        expect(jet.zxx).toBeCloseTo((e - 2 * jet.z + w) / h ** 2, 3);
        expect(jet.zyy).toBeCloseTo((n - 2 * jet.z + s) / h ** 2, 3);
      }
    }
  });
});
