import { clearanceColour, encodeSrgb } from '@barwright/geometry';
import { describe, expect, test } from 'vitest';
import { tableOf, writeColour } from './colour-table.ts';
import { type ContourScales, contourLevels } from './contour-levels.ts';
import { addBoldContour, addFineContour, type ContourGrid, createRibbons, createSegments } from './contours.ts';
import { extended, extendPositions, gridTriangles } from './grid.ts';
import { planeCut } from './plane-cut.ts';
import { borderEdges, buildSkirt } from './skirt.ts';
import { createWoodNet, fillWood } from './wood.ts';

/** A flat net of cells 4 mm apart with a value at each. */
function flatGrid(rows: number, columns: number, value: (x: number, y: number) => number): ContourGrid {
  const n = rows * columns;
  const grid = {
    rows,
    columns,
    positions: new Float32Array(3 * n),
    normals: new Float32Array(3 * n),
    values: new Float32Array(n),
  };
  for (let k = 0; k < n; k++) {
    const x = 4 * Math.floor(k / columns);
    const y = 4 * (k % columns);
    grid.positions.set([x, y, 0], 3 * k);
    grid.normals.set([0, 0, 1], 3 * k);
    grid.values[k] = value(x, y);
  }
  return grid;
}

const points = (positions: Float32Array, count: number): number[][] =>
  Array.from({ length: count }, (_, i) => [positions[3 * i]!, positions[3 * i + 1]!, positions[3 * i + 2]!]);

describe('contours', () => {
  test('the level of a slanting plane is a straight line of the right length', () => {
    const grid = flatGrid(11, 9, (x, y) => 0.3 * x + 0.1 * y);
    const segments = createSegments(200);
    addFineContour(grid, 7.03, segments);
    const ends = points(segments.positions, 2 * segments.count);
    for (const [x, y] of ends) expect(0.3 * x! + 0.1 * y!).toBeCloseTo(7.03, 4);
    let length = 0;
    for (let i = 0; i < ends.length; i += 2)
      length += Math.hypot(ends[i]![0]! - ends[i + 1]![0]!, ends[i]![1]! - ends[i + 1]![1]!);
    // Across y = 0..32, x changes by 32/3.
    expect(length).toBeCloseTo(Math.hypot(32, 32 / 3), 3);
  });

  test('a cone gives a closed ring: every end is met by another', () => {
    const grid = flatGrid(21, 21, (x, y) => Math.hypot(x - 40.7, y - 39.2));
    const segments = createSegments(400);
    addFineContour(grid, 25, segments);
    const seen = new Map<string, number>();
    for (const [x, y] of points(segments.positions, 2 * segments.count)) {
      const key = `${x!.toFixed(3)} ${y!.toFixed(3)}`;
      seen.set(key, (seen.get(key) ?? 0) + 1);
    }
    expect(segments.count).toBeGreaterThan(30);
    expect([...seen.values()].every((times) => times === 2)).toBe(true);
  });

  test('cells beside missing data stay open, and a full store drops lines instead of writing past its end', () => {
    const grid = flatGrid(11, 9, (x) => (x === 20 ? Number.NaN : x));
    const segments = createSegments(100);
    addFineContour(grid, 18, segments);
    addFineContour(grid, 22, segments);
    expect(segments.count).toBe(0);
    const few = createSegments(3);
    addFineContour(grid, 30, few);
    expect(few.count).toBe(3);
  });

  test('bold lines are as wide as asked and lie in the surface', () => {
    const grid = flatGrid(5, 5, (x) => x);
    const ribbons = createRibbons(50);
    addBoldContour(grid, 6, 2, ribbons);
    expect(ribbons.count).toBe(4);
    const [a, b, c] = points(ribbons.positions, 4);
    expect(Math.hypot(a![0]! - b![0]!, a![1]! - b![1]!)).toBeCloseTo(2, 5);
    expect(Math.hypot(b![0]! - c![0]!, b![1]! - c![1]!)).toBeCloseTo(4, 5);
    expect(Math.max(...[a, b, c].map((p) => Math.abs(p![2]!)))).toBe(0);
  });

  const scales = (maxKPa: number): ContourScales => ({
    clearanceScale: { squeezeMm: 15, clearMm: 10 },
    pressureScale: { maxKPa },
    giveEndMm: 5,
    thicknessEndMm: 10,
    squeezeEndMm: 10,
    curvatureEndPerM: 5,
    dataEndMm: 20,
  });

  test('levels stand at fixed figures, with just touching and the limits bold', () => {
    const clearance = contourLevels('clearance', scales(40), undefined);
    expect(clearance.map(({ value }) => value)).toEqual([-15, -12, -9, -6, -3, 0, 3, 6, 9]);
    expect(clearance.filter(({ isBold }) => isBold).map(({ value }) => value)).toEqual([0]);
    const pressure = contourLevels('pressure', scales(20), { meanKPa: 11, peakKPa: 30 });
    expect(pressure.filter(({ isBold }) => isBold).map(({ value }) => value)).toEqual([11, 30]);
    expect(pressure.filter(({ isBold }) => !isBold).map(({ value }) => value)).toEqual([5, 10, 15, 20]);
    const give = contourLevels('give', scales(40), undefined);
    expect(give.map(({ value }) => value)).toEqual([-5, -4, -3, -2, -1, 1, 2, 3, 4, 5]);
    expect(contourLevels('thickness', scales(40), undefined).map(({ value }) => value)).toEqual([2, 4, 6, 8, 10]);
    expect(contourLevels('squeeze', scales(40), undefined).map(({ value }) => value)).toEqual([2, 4, 6, 8, 10]);
    const curvature = contourLevels('curvature', scales(40), undefined);
    expect(curvature.map(({ value }) => value)).toEqual([-5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5]);
    expect(curvature.filter(({ isBold }) => isBold).map(({ value }) => value)).toEqual([0]);
    expect(contourLevels('data', scales(40), undefined).map(({ value }) => value)).toEqual([4, 8, 12, 16, 20]);
  });
});

describe('nets', () => {
  test('cell centres carry on by half a cell to the edges', () => {
    const { positions } = flatGrid(4, 3, () => 0);
    const out = extendPositions(positions, 4, 3, new Float32Array(3 * extended(4) * extended(3)));
    expect([...out.subarray(0, 3)]).toEqual([-2, -2, 0]);
    expect([...out.subarray(out.length - 3)]).toEqual([14, 10, 0]);
    expect([...out.subarray(3 * (1 * 5 + 1), 3 * (1 * 5 + 1) + 3)]).toEqual([0, 0, 0]);
  });

  test('wood closes: with its underside border every edge of the top is met', () => {
    const n = 10 * 8;
    const bar = {
      rows: 10,
      columns: 8,
      positions: Float32Array.from({ length: 3 * n }, (_, i) => i),
      topPositions: Float32Array.from({ length: 3 * n }, (_, i) => 1000 + i),
    };
    const net = createWoodNet(bar);
    fillWood(bar as never, net);
    const open = borderEdges(net.triangles);
    const top = net.rows.length * net.columns.length;
    expect(net.rows).toEqual([0, 3, 6, 9]);
    expect(open.length).toBe(net.border.length);
    expect(open.every(([a, b]) => a >= top && b >= top)).toBe(true);
    expect(net.positions[0]).toBe(1000);
    expect(net.positions[3 * top]).toBe(0);
  });

  test('a skirt hangs from the border only', () => {
    const { positions } = flatGrid(3, 4, () => 0);
    const skirt = buildSkirt(positions, gridTriangles(3, 4), -50);
    expect(skirt.positions.length / 12).toBe(10);
    expect([...skirt.positions].filter((_, i) => i % 3 === 2).every((z) => z === 0 || z === -50)).toBe(true);
  });

  test('a plane cuts a mesh where it should', () => {
    const { positions } = flatGrid(3, 4, () => 0);
    const out = new Float32Array(600);
    const count = planeCut(positions, gridTriangles(3, 4), 5.5, out);
    expect(count).toBe(6);
    let length = 0;
    for (let i = 0; i < count; i++) {
      expect(out[6 * i]).toBeCloseTo(5.5, 5);
      length += Math.abs(out[6 * i + 1]! - out[6 * i + 4]!);
    }
    expect(length).toBeCloseTo(12, 4);
    expect(planeCut(positions, gridTriangles(3, 4), 99, out)).toBe(0);
  });
});

test('the look-up table keeps to the map within one step, and its ends', () => {
  const scale = { squeezeMm: 12, clearMm: 20 };
  const table = tableOf(-12, 20, (gap) => clearanceColour(gap, scale));
  const out = new Float32Array(3);
  for (const gap of [-40, -12, -5.3, 0, 0.4, 11.1, 20, 70]) {
    writeColour(table, gap, out, 0);
    const wanted = clearanceColour(gap, scale);
    out.forEach((channel, c) => {
      expect(Math.abs(encodeSrgb(channel) - wanted[c]!)).toBeLessThan(0.004);
    });
  }
  writeColour(table, Number.NaN, out, 0);
  expect(encodeSrgb(out[0]!)).toBeCloseTo(0.62, 5);
});
