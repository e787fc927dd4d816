import { describe, expect, test } from 'vitest';
import { plainShape } from '../bar/demo-shapes.fixture.ts';
import { demoTree, treeOf } from '../bar/demo-tree.fixture.ts';
import { type TakeOffBar, takeOff, takeOffAt } from './take-off.ts';

const BETA = Math.PI / 6;
const TIPS = { align: 'front tips' } as const;
const plain = (over: Parameters<typeof plainShape>[0] = {}) =>
  treeOf(plainShape({ slopeRad: BETA, widthMm: 120, ...over }));
const node = (bar: TakeOffBar, i: number, j: number): number => bar.depthMm[i * bar.columns + j]!;
/** Puts the bearing line in the middle of the chord. */
const MIDDLE_INSET = 60 * Math.cos(BETA);

describe('taking off', () => {
  test('a spread wider by s on a flat slope lies s/2 sin(slope) square into the wood, and its volume is plan x s/2 tan(slope)', () => {
    const { right } = takeOff(plain({ spreadMm: 130 }), plain({ spreadMm: 142 }), TIPS);
    const known = [...right.depthMm].filter((d) => !Number.isNaN(d));
    expect(known.length).toBeGreaterThan(0.85 * right.depthMm.length);
    for (const depth of known) expect(depth).toBeCloseTo(6 * Math.sin(BETA), 9);
    // The inner strip of 6 mm is cut away; as much lacks outside. The grid's step across is 3.2 mm.
    const plan = 500 * (120 * Math.cos(BETA) - 6);
    expect(right.cutAwayMm2 / 500).toBeGreaterThan(6 - 3.3);
    expect(right.cutAwayMm2 / 500).toBeLessThan(6 + 3.3);
    expect(right.lackingMm2).toBeCloseTo(right.cutAwayMm2, 6);
    expect(Math.abs(right.removeMm3 / (plan * 6 * Math.tan(BETA)) - 1)).toBeLessThan(3.3 / 98);
    expect(right.addMm3).toBe(0);
  });

  test('a crown of radius R on a flat section is R - sqrt(R2 - v2) deep at v from where they touch', () => {
    // The arc's own middle lies its sagitta below the chord, square to it: there both undersides touch.
    const sag = 450 - Math.sqrt(450 ** 2 - 60 ** 2);
    const bearingInsetMm = MIDDLE_INSET - sag * Math.sin(BETA);
    const crowned = plain({ bearingInsetMm, crownCurvaturePerMm: 1 / 450 });
    const { right } = takeOff(plain({ bearingInsetMm }), crowned, TIPS);
    for (const j of [0, 4, 16, 25, 32]) {
      const v = 60 * right.t[j]! + sag * Math.tan(BETA);
      expect(node(right, 70, j)).toBeCloseTo(450 - Math.sqrt(450 ** 2 - v * v), 6);
    }
    expect(right.mostAddedMm).toBeCloseTo(0, 9);
  });

  test('a flare of lift f over a zone is f (way in / zone)2 cos(slope) deep, and holds f zone / 3 x the plan width', () => {
    const { right } = takeOff(plain(), plain({ flareZoneFrontMm: 80, flareLiftFrontMm: 18 }), { ...TIPS, rows: 501 });
    for (const i of [0, 60, 120, 160, 300])
      expect(node(right, i, 16)).toBeCloseTo(18 * Math.max(0, (80 - right.bMm[i]!) / 80) ** 2 * Math.cos(BETA), 9);
    const exact = ((18 * 80) / 3) * 120 * Math.cos(BETA);
    expect(Math.abs(right.removeMm3 / exact - 1)).toBeLessThan(1e-3);
  });

  test('the other way round what was removed has to be added, to the same volume, and raising by the lack leaves none', () => {
    const [a, b] = [plain(), plain({ rockCurvaturePerMm: 1 / 1500, crownCurvaturePerMm: 1 / 600 })];
    const there = takeOff(a, b, TIPS);
    const back = takeOff(b, a, TIPS);
    expect(there.right.removeMm3).toBeGreaterThan(1000);
    expect(back.right.addMm3).toBeCloseTo(there.right.removeMm3, 4);
    const raised = takeOff(b, a, { ...TIPS, raiseMm: back.raiseForNoneAddedMm });
    expect(raised.right.addMm3).toBeCloseTo(0, 6);
    expect(raised.raiseForNoneAddedMm).toBeCloseTo(back.raiseForNoneAddedMm, 9);
    expect(raised.left.mostAddedMm).toBeLessThan(1e-9);
  });

  test('swapping the bars of both trees swaps the maps; equal trees leave nothing', () => {
    const [one, two] = [demoTree('post').right.shape, { ...demoTree('post').right.shape, flareLiftFrontMm: 24 }];
    const map = takeOff(treeOf(one, one), treeOf(one, two), TIPS);
    const mirrored = takeOff(treeOf(one, one), treeOf(two, one), TIPS);
    expect(mirrored.left.depthMm).toEqual(map.right.depthMm);
    expect(mirrored.right.depthMm).toEqual(map.left.depthMm);
    expect(map.right.removeMm3).toBeGreaterThan(1000);
    expect(map.left).toMatchObject({ removeMm3: 0, addMm3: 0, deepestMm: 0, cutAwayMm2: 0, lackingMm2: 0 });
  });

  test('laid by their low points, a longer bar of the same section differs in the tips alone', () => {
    const map = takeOff(plain({ lengthMm: 500 }), plain({ lengthMm: 560 }), { align: 'low points' });
    expect(map.right.deepestMm).toBeCloseTo(0, 9);
    expect(Math.abs(map.right.lackingMm2 / (60 * 120 * Math.cos(BETA)) - 1)).toBeLessThan(0.1);
    expect(() => takeOff(plain(), plain(), { ...TIPS, raiseMm: -1 })).toThrow(/raiseMm|0 or more/);
  });

  test('one place asked for alone has the depth of its node', () => {
    const [post, rail] = [demoTree('post'), demoTree('rail')];
    const map = takeOff(post, rail, { align: 'low points', rows: 15, columns: 5 });
    for (const [i, j] of [
      [3, 0],
      [7, 2],
      [11, 4],
    ] as const) {
      const place = { side: 'left', bMm: map.left.bMm[i]!, t: map.left.t[j]! } as const;
      expect(takeOffAt(post, rail, place, { align: 'low points' })).toBe(node(map.left, i, j));
    }
    expect(takeOffAt(post, rail, { side: 'left', bMm: 999, t: 0 }, TIPS)).toBeNaN();
  });

  test('unrolled lengths are those of the surface: a flat section gives half the width, a rocked line its arc', () => {
    const { right } = takeOff(plain({ bearingInsetMm: MIDDLE_INSET, rockCurvaturePerMm: 1 / 1200 }), plain(), TIPS);
    expect(right.acrossMm[right.columns - 1]).toBeCloseTo(60, 6);
    expect(right.acrossMm[0]).toBeCloseTo(-60, 6);
    expect(right.alongMm[right.rows - 1]).toBeCloseTo(2 * 1200 * Math.asin(250 / 1200), 2);
  });
});
