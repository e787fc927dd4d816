import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildChartFromHeights } from './build-chart-from-heights.ts';
import { type Chart, createChart } from './chart.ts';
import { createChartField } from './create-chart-field.ts';
import { createFootRows, type FootRows, type Side } from './distance-field.ts';
import { evaluateChart } from './evaluate-chart.ts';
import { prefilterSpline } from './prefilter-spline.ts';
import { mulberry32 } from './seeded.fixture.ts';

type Height = (x: number, y: number) => number;

/** Saddle-shaped part of a torus with its axis along y: tube r under a hollow of radius R - r. (VALIDATION A9.) */
const R = 900;
const TUBE = 260;
const torusHeight: Height = (x, y) => {
  const ring = Math.sqrt(TUBE * TUBE - y * y);
  return R - Math.sqrt((R - ring) ** 2 - x * x) - TUBE;
};
/** Signed distance to that torus, + above the back, i.e. outside the tube. */
function torusDistance(x: number, y: number, z: number): number {
  return Math.hypot(R - Math.hypot(x, R - TUBE - z), y) - TUBE;
}

function chartOf(height: Height, side: Side, tiltDeg: number, cell = 2): Chart {
  const v: [number, number] = side === 'right' ? [-20, 260] : [-260, 20];
  return buildChartFromHeights(side, (tiltDeg * Math.PI) / 180, [-250, 250], v, cell, (x) => (y) => height(x, y));
}

/** Points above or below the surface along its normals, found from the height's own slopes. */
function offsetPoints(height: Height, side: Side, count: number, dFrom: number, dTo: number, seed: number) {
  const random = mulberry32(seed);
  const points = new Float64Array(3 * count);
  const truth = { d: new Float64Array(count), foot: new Float64Array(3 * count), n: new Float64Array(3 * count) };
  for (let k = 0; k < count; k++) {
    const x = -180 + 360 * random();
    const y = (side === 'right' ? 1 : -1) * (50 + 120 * random());
    const d = dFrom + (dTo - dFrom) * random();
    const h = 1e-3;
    const zx = (height(x + h, y) - height(x - h, y)) / (2 * h);
    const zy = (height(x, y + h) - height(x, y - h)) / (2 * h);
    const root = 1 / Math.hypot(1, zx, zy);
    const n = [-zx * root, -zy * root, root];
    const foot = [x, y, height(x, y)];
    truth.d[k] = d;
    for (let axis = 0; axis < 3; axis++) {
      truth.foot[3 * k + axis] = foot[axis];
      truth.n[3 * k + axis] = n[axis];
      points[3 * k + axis] = foot[axis] + d * n[axis];
    }
  }
  return { points, truth };
}

function evaluate(chart: Chart, points: Float64Array, hessian = false): FootRows {
  const rows = createFootRows(points.length / 3);
  evaluateChart(chart, points, 0, points.length / 3, rows, hessian);
  return rows;
}

function largestError(rows: FootRows, expected: Float64Array): number {
  let worst = 0;
  for (let k = 0; k < expected.length; k++) {
    if (rows.hasData[k] === 1) worst = Math.max(worst, Math.abs(rows.distanceMm[k] - expected[k]));
  }
  return worst;
}

describe('prefilterSpline', () => {
  it('gives coefficients whose spline takes the node values (seed 11)', () => {
    const random = mulberry32(11);
    const nu = 9;
    const nv = 13;
    const values = Float64Array.from({ length: nu * nv }, () => random() * 10 - 5);
    const c = prefilterSpline(Float64Array.from(values), nu, nv);
    const weight = [1 / 8, 6 / 8, 1 / 8];
    for (let i = 1; i < nu - 1; i++) {
      for (let j = 1; j < nv - 1; j++) {
        let value = 0;
        for (let a = 0; a < 3; a++)
          for (let b = 0; b < 3; b++) value += weight[a] * weight[b] * c[(i + a - 1) * nv + j + b - 1];
        expect(value).toBeCloseTo(values[i * nv + j], 12);
      }
    }
  });

  it('leaves a plane as it is', () => {
    const plane = Float64Array.from({ length: 70 }, (_, k) => 3 + 0.25 * Math.floor(k / 10) - 1.5 * (k % 10));
    const c = prefilterSpline(Float64Array.from(plane), 7, 10);
    for (let k = 0; k < 70; k++) expect(c[k]).toBeCloseTo(plane[k], 12);
  });
});

describe('evaluateChart against closed forms', () => {
  it.each([
    ['right', 33],
    ['left', 33],
    ['right', 0],
  ] as const)('plane on the %s, tilt %d degrees', (side, tiltDeg) => {
    const sign = side === 'right' ? -1 : 1;
    const height: Height = (x, y) => 12 + 0.08 * x + sign * 0.62 * y;
    const { points, truth } = offsetPoints(height, side, 500, -15, 60, 3);
    const rows = evaluate(chartOf(height, side, tiltDeg), points, true);
    for (let k = 0; k < 500; k++) {
      expect(rows.hasData[k]).toBe(1);
      expect(Math.abs(rows.distanceMm[k] - truth.d[k])).toBeLessThan(2e-5);
      for (let axis = 0; axis < 3; axis++) {
        expect(Math.abs(rows.normal[3 * k + axis] - truth.n[3 * k + axis])).toBeLessThan(1e-5);
        expect(Math.abs(rows.footMm[3 * k + axis] - truth.foot[3 * k + axis])).toBeLessThan(1e-3);
      }
    }
  });

  it.each(['left', 'right'] as const)('torus (VALIDATION A9, signed distance to a torus) on the %s', (side) => {
    const { points } = offsetPoints(torusHeight, side, 2000, -15, 60, 5);
    const expected = Float64Array.from({ length: 2000 }, (_, k) =>
      torusDistance(points[3 * k], points[3 * k + 1], points[3 * k + 2]),
    );
    const rows = evaluate(chartOf(torusHeight, side, 25), points);
    expect(rows.hasData.reduce((a, b) => a + b)).toBe(2000);
    expect(largestError(rows, expected)).toBeLessThan(1e-4);
  });

  it('halving the cell cuts the error on a paraboloid with relief about eightfold (order 3)', () => {
    const height: Height = (x, y) => (x * x) / 2400 - (y * y) / 500 + 4 * Math.sin(x / 14) * Math.cos(y / 17);
    const { points, truth } = offsetPoints(height, 'right', 1500, -3, 3, 8);
    const errors = [8, 4, 2].map((cell) => largestError(evaluate(chartOf(height, 'right', 28, cell), points), truth.d));
    expect(errors[0] / errors[1]).toBeGreaterThan(5);
    expect(errors[1] / errors[2]).toBeGreaterThan(5);
    expect(errors[2]).toBeLessThan(0.01);
  });

  it('Hessian: torus curvatures carried outward, k/(1 + d k) (VALIDATION A9)', () => {
    const { points, truth } = offsetPoints(torusHeight, 'right', 300, -10, 40, 21);
    const rows = evaluate(chartOf(torusHeight, 'right', 25), points, true);
    for (let k = 0; k < 300; k++) {
      const [xx, , xz, yy, yz, zz] = rows.hessian.subarray(6 * k, 6 * k + 6);
      const xy = rows.hessian[6 * k + 1];
      const d = truth.d[k];
      const y = truth.foot[3 * k + 1];
      const ring = R - Math.sqrt(TUBE * TUBE - y * y);
      const k1 = 1 / TUBE;
      // Along the ring the back is hollow: cos(th) / (ring radius), negative.
      const k2 = -Math.sqrt(TUBE * TUBE - y * y) / TUBE / ring;
      expect(Math.abs(xx + yy + zz - (k1 / (1 + d * k1) + k2 / (1 + d * k2)))).toBeLessThan(3e-5);
      const n = rows.normal.subarray(3 * k, 3 * k + 3);
      expect(Math.abs(xx * n[0] + xy * n[1] + xz * n[2])).toBeLessThan(1e-12);
      expect(Math.abs(xz * n[0] + yz * n[1] + zz * n[2])).toBeLessThan(1e-12);
    }
  });

  it('Hessian agrees with central differences of the normal (seed 34)', () => {
    const chart = chartOf(torusHeight, 'left', 25);
    const { points } = offsetPoints(torusHeight, 'left', 200, -10, 40, 34);
    const h = 0.02;
    const rows = evaluate(chart, points, true);
    const cell = [0, 1, 2, 1, 3, 4, 2, 4, 5];
    let agreeing = 0;
    for (let axis = 0; axis < 3; axis++) {
      const shifted = [-h, h].map((by) =>
        evaluate(
          chart,
          points.map((p, k) => (k % 3 === axis ? p + by : p)),
        ),
      );
      for (let k = 0; k < 200; k++) {
        const column = [0, 1, 2].map((r) => (shifted[1].normal[3 * k + r] - shifted[0].normal[3 * k + r]) / (2 * h));
        const worst = Math.max(...column.map((v, r) => Math.abs(v - rows.hessian[6 * k + cell[3 * r + axis]])));
        // Second derivatives of the spline step at cell borders, by the third derivative times a cell.
        expect(worst).toBeLessThan(3e-4);
        if (worst < 4e-5) agreeing++;
      }
    }
    expect(agreeing).toBeGreaterThan(500);
  });
});

describe('evaluateChart relations', () => {
  it('mirrors: left chart at mirrored points gives mirrored answers', () => {
    const lopsided: Height = (x, y) => torusHeight(x, y) + 3 * Math.sin((x + 2 * y) / 40);
    const mirrored: Height = (x, y) => lopsided(x, -y);
    const { points } = offsetPoints(lopsided, 'right', 300, -10, 50, 4);
    const right = evaluate(chartOf(lopsided, 'right', 30), points, true);
    const left = evaluate(
      chartOf(mirrored, 'left', 30),
      points.map((p, k) => (k % 3 === 1 ? -p : p)),
      true,
    );
    for (let k = 0; k < 300; k++) {
      expect(left.distanceMm[k]).toBeCloseTo(right.distanceMm[k], 5);
      expect(left.normal[3 * k + 1]).toBeCloseTo(-right.normal[3 * k + 1], 5);
      expect(left.hessian[6 * k + 5]).toBeCloseTo(right.hessian[6 * k + 5], 4);
    }
  });

  it('raising the surface and the points together changes nothing', () => {
    const { points } = offsetPoints(torusHeight, 'right', 200, 0, 20, 6);
    const base = evaluate(chartOf(torusHeight, 'right', 25), points);
    const raised: Height = (x, y) => torusHeight(x, y) + 8.5;
    const up = points.map((p, k) => (k % 3 === 2 ? p + 8.5 : p));
    const both = evaluate(chartOf(raised, 'right', 25), up);
    for (let k = 0; k < 200; k++) expect(Math.abs(both.distanceMm[k] - base.distanceMm[k])).toBeLessThan(1e-4);
  });

  it('answers no data in a hole, at its rim, beyond the grid, and for NaN or infinite points', () => {
    const pierced: Height = (x, y) => (Math.hypot(x - 20, y - 110) < 25 ? Number.NaN : torusHeight(x, y));
    const chart = chartOf(pierced, 'right', 25);
    const points = Float64Array.of(
      20,
      110,
      5,
      44,
      110,
      0,
      80,
      110,
      5,
      1e6,
      0,
      0,
      Number.NaN,
      110,
      5,
      20,
      Number.POSITIVE_INFINITY,
      5,
    );
    const rows = evaluate(chart, points);
    expect([...rows.hasData]).toEqual([0, 0, 1, 0, 0, 0]);
    expect(rows.distanceMm[2]).toBeCloseTo(torusDistance(80, 110, 5), 4);
  });

  it('a hole does not bend its surroundings: 6 mm from the rim the answer is within 0.01 mm', () => {
    const pierced: Height = (x, y) => (Math.hypot(x - 20, y - 110) < 25 ? Number.NaN : torusHeight(x, y));
    const { points, truth } = offsetPoints(torusHeight, 'right', 4000, 0, 10, 15);
    const rows = evaluate(chartOf(pierced, 'right', 25), points);
    let seen = 0;
    for (let k = 0; k < 4000; k++) {
      if (rows.hasData[k] === 0) continue;
      expect(Math.abs(rows.distanceMm[k] - truth.d[k])).toBeLessThan(0.01);
      if (Math.hypot(truth.foot[3 * k] - 20, truth.foot[3 * k + 1] - 110) < 40) seen++;
    }
    expect(seen).toBeGreaterThan(20);
  });

  it('gives up folds and counts them', () => {
    const cliff: Height = (x, y) => torusHeight(x, y) - (y > 100 ? 200 * Math.min(1, (y - 100) / 8) : 0);
    const inward: Height = (x, y) => torusHeight(x, y) + (y > 100 ? 60 * Math.min(1, (y - 100) / 8) : 0);
    expect(chartOf(torusHeight, 'right', 25).foldedFraction).toBe(0);
    expect(chartOf(inward, 'right', 40).foldedFraction).toBeGreaterThan(0.02);
    expect(chartOf(cliff, 'right', 0).foldedFraction).toBeGreaterThan(0.01);
  });

  it('1e5 queries over a rough surface give finite answers wherever data is claimed (seed 20260101)', () => {
    const random = mulberry32(20260101);
    const nu = 120;
    const nv = 100;
    const heightsMm = Float64Array.from({ length: nu * nv }, () => 3 * (random() - 0.5) + (random() < 0.01 ? 40 : 0));
    const mask = Uint8Array.from({ length: nu * nv }, () => (random() < 0.002 ? 0 : 1));
    const grid = { u0Mm: -100, v0Mm: 0, cellMm: 2, nu, nv, heightsMm, mask };
    const chart = createChart({ side: 'right', tiltRad: 0.5, ...grid });
    const points = Float64Array.from({ length: 3e5 }, (_, k) => (random() - 0.5) * 300 + (k % 3 === 1 ? 80 : 0));
    const rows = evaluate(chart, points, true);
    let answered = 0;
    for (let k = 0; k < 1e5; k++) {
      if (rows.hasData[k] === 0) continue;
      answered++;
      const sum =
        rows.distanceMm[k] +
        rows.footMm[3 * k] +
        rows.footMm[3 * k + 1] +
        rows.footMm[3 * k + 2] +
        rows.hessian.subarray(6 * k, 6 * k + 6).reduce((a, b) => a + b);
      if (!Number.isFinite(sum)) expect.fail(`row ${k} is not finite`);
      const length = Math.hypot(rows.normal[3 * k], rows.normal[3 * k + 1], rows.normal[3 * k + 2]);
      if (Math.abs(length - 1) > 1e-12) expect.fail(`row ${k} has a normal of length ${length}`);
    }
    expect(answered).toBeGreaterThan(1000);
  });

  it('rows answer the same alone and together (fast-check, seed 7)', () => {
    const chart = chartOf(torusHeight, 'right', 25);
    const { points } = offsetPoints(torusHeight, 'right', 64, -10, 50, 2);
    const all = evaluate(chart, points);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 63 }), (k) => {
        const rows = createFootRows(64);
        evaluateChart(chart, points, k, k + 1, rows, false);
        expect(rows.distanceMm[k]).toBe(all.distanceMm[k]);
        expect(rows.hasData.reduce((a, b) => a + b)).toBe(1);
      }),
      { seed: 7, numRuns: 30 },
    );
  });
});

describe('createChartField', () => {
  it('answers from the chart of the side asked for, and refuses swapped charts', () => {
    const tilted: Height = (x, y) => torusHeight(x, y) + 0.05 * y;
    const left = chartOf(torusHeight, 'left', 25);
    const right = chartOf(tilted, 'right', 25);
    const field = createChartField(left, right);
    const rows = createFootRows(1);
    field.evaluate(Float64Array.of(10, 100, torusHeight(10, 100) + 5), 0, 1, 'right', rows, false);
    expect(rows.distanceMm[0]).toBeLessThan(1);
    field.evaluate(Float64Array.of(10, -100, torusHeight(10, 100)), 0, 1, 'left', rows, false);
    expect(Math.abs(rows.distanceMm[0])).toBeLessThan(1e-4);
    expect(() => createChartField(right, left)).toThrow(/left and a right/);
  });
});
