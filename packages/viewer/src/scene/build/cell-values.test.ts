import { describe, expect, test } from 'vitest';
import type { BarView } from '../../contract.ts';
import { cellValues, type Shades } from './cell-values.ts';
import { curvatureOf } from './curvature.ts';
import { FARTHEST_MM, nearestPoint } from './nearest-point.ts';

const ROWS = 9;
const COLUMNS = 7;

/** Feet on a barrel of radius R that lies along x, and an underside that is its hollow counterpart, 10 mm off. */
function barrel(radiusMm: number): BarView {
  const n = ROWS * COLUMNS;
  const [positions, normals, feet, backNormals] = Array.from({ length: 4 }, () => new Float32Array(3 * n)) as [
    Float32Array,
    Float32Array,
    Float32Array,
    Float32Array,
  ];
  for (let k = 0; k < n; k++) {
    const angle = 0.1 + 0.02 * (k % COLUMNS);
    const [sin, cos] = [Math.sin(angle), Math.cos(angle)];
    const x = 4 * Math.floor(k / COLUMNS);
    feet.set([x, radiusMm * sin, radiusMm * cos], 3 * k);
    positions.set([x, (radiusMm + 10) * sin, (radiusMm + 10) * cos], 3 * k);
    backNormals.set([0, sin, cos], 3 * k);
    normals.set([0, -sin, -cos], 3 * k);
  }
  const plain = new Float32Array(n);
  return {
    rows: ROWS,
    columns: COLUMNS,
    positions,
    normals,
    feet,
    backNormals,
    gapMm: plain.slice(),
    pressureKPa: plain,
    bearing: plain.map(() => 1),
    topPositions: positions,
    bMm: plain,
    t: plain,
    giveMm: plain,
    thicknessMm: plain,
    bentMm: null,
    layers: [
      { name: 'tissue', thicknessMm: 0, squeezeMm: plain.map((_, k) => k / 10) },
      { name: 'pad', thicknessMm: 20, squeezeMm: plain.map((_, k) => k / 5) },
    ],
  };
}

const shades = (change: Partial<Shades>): Shades => ({
  colour: 'squeeze',
  squeezeLayer: -1,
  curvature: 'back-across',
  nearest: null,
  ...change,
});

describe('curvature', () => {
  // A cylinder of radius R is curved by 1/R square to its axis and not at all along it: elementary geometry.
  test('of a barrel of 250 mm: 4 per metre across, nothing lengthwise; the matching underside has the same sense', () => {
    const bar = barrel(250);
    for (const perM of curvatureOf(bar, 'back-across')) expect(Math.abs(perM - 4)).toBeLessThan(0.005);
    for (const perM of curvatureOf(bar, 'bar-across')) expect(Math.abs(perM - 1000 / 260)).toBeLessThan(0.005);
    for (const of of ['back-along', 'bar-along'] as const)
      for (const perM of curvatureOf(bar, of)) expect(Math.abs(perM)).toBeLessThan(1e-6);
  });

  test('is not known beside cells without data, and of the underside it is', () => {
    const bar = barrel(250);
    const cell = 3 * COLUMNS + 3;
    bar.gapMm[cell] = Number.NaN;
    const back = curvatureOf(bar, 'back-across');
    expect([back[cell - 1], back[cell + 1]]).toEqual([Number.NaN, Number.NaN]);
    expect(back[cell - 2]).toBeCloseTo(4, 2);
    expect(curvatureOf(bar, 'bar-across').every((perM) => perM > 3.8)).toBe(true);
  });
});

describe('squeeze', () => {
  test('of a layer is that layer’s, and of all of them their sum; a layer that is not there gives the sum', () => {
    const bar = barrel(250);
    expect(cellValues(bar, shades({ squeezeLayer: 1 }))).toEqual(bar.layers[1]!.squeezeMm);
    for (const squeezeLayer of [-1, 2])
      expect(cellValues(bar, shades({ squeezeLayer }))[30]).toBeCloseTo(30 / 10 + 30 / 5, 5);
  });
});

describe('data', () => {
  test('the nearest of many points is the one that looking at all of them finds (seed 7)', () => {
    let seed = 7;
    const random = (): number => {
      seed = (seed * 16807) % 2147483647;
      return seed / 2147483647;
    };
    const points = Float32Array.from({ length: 3 * 800 }, () => 120 * random() - 60);
    const near = nearestPoint(points);
    for (let i = 0; i < 300; i++) {
      const at = [0, 1, 2].map(() => 160 * random() - 80) as [number, number, number];
      let best = Number.POSITIVE_INFINITY;
      for (let k = 0; k < points.length; k += 3)
        best = Math.min(best, Math.hypot(points[k]! - at[0], points[k + 1]! - at[1], points[k + 2]! - at[2]));
      if (best > FARTHEST_MM) expect(near(...at)).toBe(Number.POSITIVE_INFINITY);
      else expect(near(...at)).toBeCloseTo(best, 4);
    }
  });

  test('distance is from the foot, hatched without data, and nothing on a back that has no points', () => {
    const bar = barrel(250);
    bar.gapMm[5] = Number.NaN;
    const nearest = nearestPoint(Float32Array.from([...bar.feet.subarray(0, 2), bar.feet[2]! + 3]));
    const values = cellValues(bar, shades({ colour: 'data', nearest }));
    expect(values[0]).toBeCloseTo(3, 4);
    expect(values[5]).toBeNaN();
    expect(cellValues(bar, shades({ colour: 'data' }))[0]).toBe(0);
  });
});
