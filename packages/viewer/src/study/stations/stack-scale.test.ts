import { describe, expect, test } from 'vitest';
import type { CutBar, CutView } from '../../contract.ts';
import { backHeightAt, gapPaths, stackScale } from './stack-scale.ts';

const bar = (underside: number[]): CutBar => ({
  bMm: 0,
  underside: Float32Array.from(underside),
  top: Float32Array.from(underside.map((v, i) => (i % 2 === 1 ? v + 20 : v))),
  barSlopeDeg: 30,
  backSlopeDeg: 30,
  gapInnerMm: 0,
  gapMiddleMm: 0,
  gapOuterMm: 0,
});
const BACK = Float32Array.from([-200, -60, 0, 0, 200, -60]);
const cut = (half: number, z: number): CutView => ({
  xMm: 100,
  back: BACK,
  left: bar([-60, z, -half, z - 20]),
  right: bar([60, z, half, z - 20]),
});
const PLAIN = { pxPerMm: 1, toX: (y: number) => y, toY: (z: number) => -z };
/** Area of closed four-sided pieces, by the shoelace. */
function area(path: string): number {
  return path
    .split('M')
    .filter((piece) => piece !== '')
    .map((piece) => {
      const p = [...piece.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)] as const);
      return (
        Math.abs(p.reduce((sum, [x, y], i) => sum + x * p[(i + 1) % p.length]![1] - y * p[(i + 1) % p.length]![0], 0)) /
        2
      );
    })
    .reduce((sum, one) => sum + one, 0);
}

describe('the stack of stations', () => {
  test('has one scale for all cuts, true both ways, the widest just inside the width', () => {
    const wide = cut(170, 0);
    const scale = stackScale([cut(140, 10), wide], 380)!;
    const window = scale.window(wide);
    expect(window.toX(170) - window.toX(-170)).toBeLessThanOrEqual(380);
    expect(window.toX(170) - window.toX(-170)).toBeGreaterThan(300);
    expect(window.toX(10) - window.toX(0)).toBeCloseTo(window.toY(0) - window.toY(10), 9);
    expect(scale.window(cut(140, 10)).pxPerMm).toBe(window.pxPerMm);
    expect(stackScale([], 380)).toBeNull();
  });

  test('the back between its points is straight, and nothing beside them', () => {
    expect(backHeightAt(BACK, 100)).toBeCloseTo(-30, 9);
    expect(backHeightAt(BACK, -300)).toBeNaN();
    expect(backHeightAt(BACK, 300)).toBeNaN();
  });

  test('daylight and overlap are told apart where the bar crosses the back', () => {
    // Over y 60 .. 160 the back falls from -18 to -48; a level bar at -33 lies under it, then over it: two triangles of 50 x 15.
    const { clear, squeeze } = gapPaths(Float32Array.from([60, -33, 160, -33]), BACK, PLAIN);
    expect(area(clear)).toBeCloseTo((50 * 15) / 2, 6);
    expect(area(squeeze)).toBeCloseTo((50 * 15) / 2, 6);
    const holed = Float32Array.from([0, Number.NaN, 200, Number.NaN]);
    expect(gapPaths(Float32Array.from([60, -33, 160, -33]), holed, PLAIN)).toEqual({ clear: '', squeeze: '' });
  });
});
