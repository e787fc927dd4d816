import { describe, expect, it } from 'vitest';
import { bearingY, footOf, treeLengthMm, undersidePoint } from '../bar/index.ts';
import {
  alterTree,
  withBearingLineAt,
  withFlare,
  withLength,
  withRock,
  withSlopes,
  withStationSlopes,
  withWiderSpread,
} from './alter-tree.ts';
import { demoPatternTree } from './scenario.fixture.ts';

const tree = demoPatternTree('wren');
const slopes = (t: typeof tree): number[] => t.right.shape.stations.map((s) => (s.slopeRad * 180) / Math.PI);

describe('altering a tree', () => {
  it('leaves the tree it was given as it was', () => {
    const before = JSON.stringify([tree.left.shape, tree.right.shape, tree.parts]);
    withLength(withRock(withSlopes(withFlare(withWiderSpread(tree, 20), 3, 4), 0.1, -0.1), 1 / 2000), 640);
    expect(JSON.stringify([tree.left.shape, tree.right.shape, tree.parts])).toBe(before);
  });

  it('keeps station, low point and slot percents and flare millimetres when the length changes', () => {
    const long = withLength(tree, 600);
    const [a, b] = [tree.right.shape, long.right.shape];
    expect(treeLengthMm(long)).toBe(600);
    for (const [i, s] of a.stations.entries()) expect(b.stations[i]!.atMm / 600).toBeCloseTo(s.atMm / a.lengthMm, 12);
    expect(b.rockLowPointMm / 600).toBeCloseTo(a.rockLowPointMm / a.lengthMm, 12);
    expect(b.slotCentreMm / 600).toBeCloseTo(a.slotCentreMm / a.lengthMm, 12);
    expect([b.flareZoneFrontMm, b.flareZoneRearMm]).toEqual([a.flareZoneFrontMm, a.flareZoneRearMm]);
    expect(b.rockCurvaturePerMm).toBe(a.rockCurvaturePerMm);
  });

  it('tips keep their millimetres up to half the bar; the cantle foot ends as far ahead of the rear edge as before', () => {
    const [short, long] = [withLength(tree, 400), withLength(tree, 640)];
    const own = tree.right.shape;
    for (const { right, parts } of [short, long]) {
      expect([right.shape.tipLengthFrontMm, right.shape.tipLengthRearMm]).toEqual([
        own.tipLengthFrontMm,
        own.tipLengthRearMm,
      ]);
      expect(right.shape.lengthMm - parts.cantleFootToMm).toBeCloseTo(own.lengthMm - tree.parts.cantleFootToMm, 9);
      expect(parts.forkFootToMm).toBe(tree.parts.forkFootToMm);
      const [from, to] = footOf(parts, 'cantle');
      expect(to - from).toBeGreaterThanOrEqual(10);
      expect(from).toBeLessThan(right.shape.lengthMm);
    }
    const stub = alterTree(tree, (shape) => ({ ...shape, tipLengthFrontMm: 240 }));
    expect(withLength(stub, 320).right.shape.tipLengthFrontMm).toBe(160);
  });

  it('fades a front slope change to nothing at the last station, and a rear one at the first', () => {
    const degree = Math.PI / 180;
    const [f, w, r] = slopes(tree);
    const front = slopes(withSlopes(tree, 4 * degree, 0));
    expect(front[0]! - f!).toBeCloseTo(4, 9);
    expect(front[1]! - w!).toBeCloseTo(2, 9);
    expect(front[2]! - r!).toBeCloseTo(0, 9);
    const twist = slopes(withSlopes(tree, 3 * degree, -3 * degree));
    expect(twist[0]! + twist[2]!).toBeCloseTo(f! + r!, 9);
    expect(slopes(withStationSlopes(tree, [degree, 0, -degree]))[1]).toBeCloseTo(w!, 12);
  });

  it('carries the bearing line without changing its height', () => {
    const wide = withWiderSpread(tree, 24);
    const placed = withBearingLineAt(wide, 120);
    for (const b of [100, 250, 400]) {
      expect(bearingY(wide, 'right', b) - bearingY(tree, 'right', b)).toBeCloseTo(12, 6);
      expect(bearingY(placed, 'right', b)).toBeCloseTo(120, 6);
      const before = undersidePoint(tree, 'right', b, bearingY(tree, 'right', b));
      const after = undersidePoint(wide, 'right', b, bearingY(wide, 'right', b));
      expect(after[2]).toBeCloseTo(before[2], 6);
    }
  });

  it('keeps bars that share one shape sharing it, and different bars different', () => {
    const same = withRock(tree, 1 / 900);
    expect(same.left).toBe(same.right);
    const uneven = { ...tree, left: withRock(tree, 1 / 900).left };
    const altered = alterTree(uneven, (s) => ({ ...s, reliefDepthMm: 1 }));
    expect(altered.left.shape.rockCurvaturePerMm).toBeCloseTo(1 / 900, 12);
    expect(altered.right.shape.rockCurvaturePerMm).toBeCloseTo(1 / 1150, 12);
  });
});
