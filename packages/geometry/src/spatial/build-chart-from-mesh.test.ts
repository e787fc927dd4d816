import { describe, expect, it } from 'vitest';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { buildChartFromMesh } from './build-chart-from-mesh.ts';
import { chooseSmoothingMm, medianEdgeMm } from './choose-smoothing.ts';
import { createFootRows } from './distance-field.ts';
import { evaluateChart } from './evaluate-chart.ts';
import { heightMesh } from './mesh.fixture.ts';
import { createMeshDistanceField } from './mesh-distance.ts';
import { rasteriseSheet } from './rasterise-sheet.ts';
import { mulberry32 } from './seeded.fixture.ts';

/** Saddle-shaped side with relief of 4 mm, 70 to 250 mm long, as in PERFORMANCE 2a; slope about 35 degrees at y = 120. */
const back = (x: number, y: number) =>
  (x * x) / 2800 - 0.3 * y - (y * y) / 620 + 2.5 * Math.sin(x / 19 + y / 31) + 1.5 * Math.cos(y / 14 - x / 40);
const TILT = 0.6;

/** Surface points with their normals by central differences, lifted by d. */
function lifted(count: number, dFrom: number, dTo: number, seed: number) {
  const random = mulberry32(seed);
  const points = new Float64Array(3 * count);
  const distance = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const x = -110 + 220 * random();
    const y = 55 + 110 * random();
    const d = dFrom + (dTo - dFrom) * random();
    const h = 1e-3;
    const zx = (back(x + h, y) - back(x - h, y)) / (2 * h);
    const zy = (back(x, y + h) - back(x, y - h)) / (2 * h);
    const root = 1 / Math.hypot(1, zx, zy);
    points.set([x - d * zx * root, y - d * zy * root, back(x, y) + d * root], 3 * k);
    distance[k] = d;
  }
  return { points, distance };
}

function errors(
  distances: Float64Array,
  truth: Float64Array,
  used: Uint8Array,
): { p99: number; max: number; n: number } {
  const all = [...distances.keys()].filter((k) => used[k] === 1).map((k) => Math.abs(distances[k] - truth[k]));
  all.sort((a, b) => a - b);
  return { p99: all[Math.floor(0.99 * all.length)], max: all[all.length - 1], n: all.length };
}

function fastRows(mesh: TriangleMesh, points: Float64Array, smoothingMm?: number) {
  const chart = buildChartFromMesh(mesh, 'right', TILT, smoothingMm === undefined ? {} : { smoothingMm });
  const rows = createFootRows(points.length / 3);
  evaluateChart(chart, points, 0, points.length / 3, rows, false);
  return { chart, rows };
}

function exactRows(mesh: TriangleMesh, points: Float64Array) {
  const rows = createFootRows(points.length / 3);
  createMeshDistanceField(mesh).evaluate(points, 0, points.length / 3, 'right', rows, false);
  return rows;
}

describe('buildChartFromMesh', () => {
  it('smooth dense mesh: within 0.01 mm, p99 0.005 mm of the exact nearest point for d = 0 ... 17 mm (seed 17)', () => {
    const mesh = heightMesh(back, [-140, 140], [-60, 200], 1.6, 17);
    const { points } = lifted(3000, 0, 17, 18);
    const { chart, rows } = fastRows(mesh, points);
    const exact = exactRows(mesh, points);
    const e = errors(rows.distanceMm, exact.distanceMm, rows.hasData);
    expect(chart.smoothingMm).toBe(0);
    expect(e.n).toBe(3000);
    expect(e.max).toBeLessThan(0.01);
    expect(e.p99).toBeLessThan(0.005);
  });

  it('noise of 0.1 mm: smoothed by itself, p99 at most a quarter of the exact nearest point on that mesh (seed 27)', () => {
    const mesh = heightMesh(back, [-140, 140], [0, 200], 0.84, 27, undefined, 0.1);
    const { points, distance } = lifted(3000, 0, 17, 28);
    const { chart, rows } = fastRows(mesh, points);
    const exact = exactRows(mesh, points);
    expect(chart.smoothingMm).toBe(2);
    const fast = errors(rows.distanceMm, distance, rows.hasData);
    expect(fast.n).toBeGreaterThan(2900);
    expect(fast.p99).toBeLessThan(errors(exact.distanceMm, distance, rows.hasData).p99 / 4);
  });

  it('smoothing does not bend a slope at a rim or a hole: a plane stays a plane', () => {
    const plane = (x: number, y: number) => 0.2 * x - 0.9 * y;
    const hole = (x: number, y: number) => Math.hypot(x, y - 90) < 20;
    const mesh = heightMesh(plane, [-60, 60], [20, 160], 3, 5, hole);
    const points = Float64Array.from({ length: 3 * 400 }, (_, k) => {
      const n = Math.floor(k / 3);
      const x = -50 + (n % 20) * 5;
      const y = 40 + Math.floor(n / 20) * 5;
      return [x, y, plane(x, y)][k % 3];
    });
    const { rows } = fastRows(mesh, points, 3);
    let answered = 0;
    for (let k = 0; k < 400; k++) {
      if (rows.hasData[k] === 0) continue;
      answered++;
      expect(Math.abs(rows.distanceMm[k])).toBeLessThan(1e-4);
    }
    expect(answered).toBeGreaterThan(300);
    expect(answered).toBeLessThan(400);
  });

  it('holes are no data in the chart as well', () => {
    const hole = (x: number, y: number) => Math.hypot(x - 10, y - 100) < 15;
    const mesh = heightMesh(back, [-140, 140], [-60, 200], 3, 7, hole);
    const points = Float64Array.of(10, 100, back(10, 100), 60, 100, back(60, 100));
    expect([...fastRows(mesh, points).rows.hasData]).toEqual([0, 1]);
  });

  it('a second sheet or an overhang is given up and counted', () => {
    const sheet = heightMesh(back, [-140, 140], [-60, 200], 4, 7);
    const flap = heightMesh((x, y) => back(x, y) + 12, [-20, 20], [80, 120], 4, 8);
    const offset = sheet.positions.length / 3;
    const both = {
      positions: Float64Array.from([...sheet.positions, ...flap.positions]),
      triangles: Uint32Array.from([...sheet.triangles, ...flap.triangles.map((v) => v + offset)]),
    };
    const points = Float64Array.of(0, 100, back(0, 100) + 12, 60, 100, back(60, 100));
    const { chart, rows } = fastRows(both, points);
    expect(fastRows(sheet, points).chart.foldedFraction).toBeLessThan(0.001);
    expect(chart.foldedFraction).toBeGreaterThan(0.01);
    expect(chart.foldedFraction).toBeLessThan(0.2);
    expect([...rows.hasData]).toEqual([0, 1]);
  });

  it('the raster has no pinhole where triangles meet, whatever the lattice falls on (seed 3)', () => {
    const mesh = heightMesh(() => 0, [0, 40], [0, 40], 4, 3);
    for (const shift of [0, 0.25, 1 / 3]) {
      const { heights } = rasteriseSheet(mesh, 1, 0, { u0Mm: 1 + shift, v0Mm: 1, cellMm: 0.5, nu: 70, nv: 76 });
      expect(heights.every((h) => Math.abs(h) < 1e-12)).toBe(true);
    }
  });

  it('mirrored mesh: the left chart answers like the right one', () => {
    const mesh = heightMesh(back, [-100, 100], [-60, 200], 5, 11);
    const mirrored = {
      positions: mesh.positions.map((p, k) => (k % 3 === 1 ? -p : p)),
      triangles: mesh.triangles.map((_, k, all) => all[k - (k % 3) + [0, 2, 1][k % 3]]),
    };
    const { points } = lifted(200, -10, 40, 12);
    const right = fastRows(mesh, points).rows;
    const left = createFootRows(200);
    const chart = buildChartFromMesh(mirrored, 'left', TILT);
    evaluateChart(
      chart,
      points.map((p, k) => (k % 3 === 1 ? -p : p)),
      0,
      200,
      left,
      false,
    );
    for (let k = 0; k < 200; k++) expect(left.distanceMm[k]).toBeCloseTo(right.distanceMm[k], 4);
  });
});

describe('chooseSmoothingMm', () => {
  it('leaves quiet scans alone, faceted ones too, and ties the rest to the edge length', () => {
    expect(chooseSmoothingMm(16, 0.1)).toBe(0);
    expect(chooseSmoothingMm(8, 1)).toBe(12);
    expect(chooseSmoothingMm(16, 1)).toBe(15);
    expect(chooseSmoothingMm(0.8, 0.005)).toBe(0);
    expect(chooseSmoothingMm(0.8, 0.1)).toBe(2);
    expect(chooseSmoothingMm(2, 0.1)).toBe(3);
    expect(medianEdgeMm(heightMesh(() => 0, [0, 100], [0, 100], 5, 1))).toBeCloseTo(5.4, 0);
  });
});
