import { describe, expect, it } from 'vitest';
import { plainShape } from '../../packages/geometry/src/bar/demo-shapes.fixture.ts';
import { demoTree } from '../../packages/geometry/src/bar/demo-tree.fixture.ts';
import {
  createHeightJet,
  createUnderside,
  type HeightJet,
  sampleBars,
  type Tree,
  type Underside,
} from '../../packages/geometry/src/bar/index.ts';
import { analyticBack } from '../../packages/geometry/src/seating/analytic-back.fixture.ts';
import { cylinderField, torusField, torusHeight } from '../../packages/geometry/src/seating/analytic-fields.fixture.ts';
import { measureMismatch, SETUP_DEFAULTS, seatTree } from '../../packages/geometry/src/seating/index.ts';
import { createFootRows } from '../../packages/geometry/src/spatial/index.ts';

/** A back whose surface is a torus: hollow lengthwise (ring), round crosswise (tube). VALIDATION A9. */
const RING = 1700;
const TUBE = 250;

/** z of the inner side of a torus tube and its derivatives, from F(x, z, y) = (RING - hypot(x, z - zc))^2 + y^2 = tube^2. */
function torusJet(tube: number, x: number, y: number, out: HeightJet): HeightJet {
  const s = Math.sqrt(tube * tube - y * y);
  const radius = RING - s;
  const drop = Math.sqrt(radius * radius - x * x);
  const [sy, syy] = [-y / s, -(tube * tube) / s ** 3];
  const [ry, ryy] = [-sy, -syy];
  out.z = RING - TUBE - drop;
  out.zb = x / drop;
  out.zy = (-radius * ry) / drop;
  out.zbb = 1 / drop + (x * x) / drop ** 3;
  out.zby = (-x * radius * ry) / drop ** 3;
  out.zyy = -((ry * ry + radius * ryy) / drop) + (radius * ry) ** 2 / drop ** 3;
  return out;
}

/** An underside that copies the torus at an offset t from it: the tube grown by t (torus offset = torus). */
function offsetUnderside(t: number): Underside {
  const shape = plainShape({ lengthMm: 500, spreadMm: 130, widthMm: 130, slopeRad: 0.5, bearingInsetMm: 55 });
  const plain = createUnderside(shape);
  return {
    shape,
    row: plain.row,
    heightJet: (row, y, out) => torusJet(TUBE + t, bOf.get(row) ?? 0, y, out),
  };
}

// A row does not carry its own station: it is remembered when made.
const bOf = new WeakMap<object, number>();
function remembering(bar: Underside): Underside {
  return {
    ...bar,
    row: (b) => {
      const row = bar.row(b);
      bOf.set(row, b - bar.shape.rockLowPointMm);
      return row;
    },
  };
}

const treeAt = (t: number): Tree => {
  const bar = remembering(offsetUnderside(t));
  return { ...demoTree('post'), left: bar, right: bar };
};

const torusBack = analyticBack(torusField(RING, TUBE), (x, y) => torusHeight(RING, TUBE, x, y));

describe('a bar built as the exact offset of a back (scenario 1)', () => {
  it("the offset's own derivatives agree with differences", () => {
    const at = (x: number, y: number): HeightJet => torusJet(TUBE + 20, x, y, createHeightJet());
    const h = 1e-3;
    for (const [x, y] of [
      [0, 100],
      [140, 75],
      [-230, 160],
    ]) {
      const here = at(x, y);
      expect(here.zb).toBeCloseTo((at(x + h, y).z - at(x - h, y).z) / (2 * h), 7);
      expect(here.zy).toBeCloseTo((at(x, y + h).z - at(x, y - h).z) / (2 * h), 7);
      expect(here.zbb).toBeCloseTo((at(x + h, y).zb - at(x - h, y).zb) / (2 * h), 7);
      expect(here.zby).toBeCloseTo((at(x, y + h).zb - at(x, y - h).zb) / (2 * h), 7);
      expect(here.zyy).toBeCloseTo((at(x, y + h).zy - at(x, y - h).zy) / (2 * h), 7);
    }
  });

  it('held at its drawn place, every cell is the offset away from the back to 1e-9 mm (Euclidean)', () => {
    for (const t of [0, 12, 20]) {
      const tree = treeAt(t);
      const samples = sampleBars(tree.left, tree.right, { samples: 2000 });
      const rows = createFootRows(samples.count);
      torusBack.exact.evaluate(samples.pointsMm, 0, samples.count, 'right', rows, false);
      for (let i = 0; i < samples.count; i++) expect(Math.abs(rows.distanceMm[i] - t)).toBeLessThan(1e-9);
    }
  });

  it('laid on: gap uniform within 0.3 mm over the core zone, lengthwise mismatch and slope mismatch read 0', () => {
    const setup = { ...SETUP_DEFAULTS, setPositionMm: -250, samples: 3000 };
    const laidOn = seatTree(treeAt(0), torusBack, setup, { laidOn: true });
    expect(laidOn.status).toBe('settled');
    const { samples, seat } = laidOn;
    const core = Array.from(seat.rows.distanceMm).filter((_, i) => samples.coreAreaMm2[i] > 0);
    expect(Math.max(...core) - Math.min(...core)).toBeLessThan(0.05);
    const mismatch = measureMismatch(laidOn);
    expect(Math.abs(mismatch.lengthwiseLeftMm!)).toBeLessThan(0.02);
    expect(Math.abs(mismatch.lengthwiseRightMm!)).toBeLessThan(0.02);
    for (const station of mismatch.stations) expect(Math.abs(station.mismatchDeg)).toBeLessThan(0.02);
  });

  it('lowered by s without turning, the distance falls by s cos(slope) to second order: a vertical gap is not the distance', () => {
    const tree = treeAt(20);
    const samples = sampleBars(tree.left, tree.right, { samples: 500 });
    const rows = createFootRows(samples.count);
    const lowered = samples.pointsMm.map((v, i) => (i % 3 === 2 ? v - 0.01 : v));
    torusBack.exact.evaluate(lowered, 0, samples.count, 'right', rows, false);
    for (let i = 0; i < samples.count; i++) {
      const expected = 20 - 0.01 * Math.abs(samples.normals[3 * i + 2]);
      expect(Math.abs(rows.distanceMm[i] - expected)).toBeLessThan(1e-6);
    }
  });
});

describe('bars of our own kind that are exact offsets', () => {
  it('no rock, hollow crown -1/(R + t) over a round back of radius R: uniform to 1e-9 mm along arc and length', () => {
    const [R, t, slope, width] = [260, 18, 0.55, 140];
    const rise = R + t;
    const half = Math.asin(width / 2 / rise);
    // The chord of slope b between angles b - half and b + half of the offset circle (horse below: circle of radius R + t).
    const spread = 2 * rise * Math.sin(slope - half);
    const inset = rise * Math.sin(slope) - spread / 2;
    const shape = plainShape({
      slopeRad: slope,
      widthMm: width,
      spreadMm: spread,
      bearingInsetMm: inset,
      crownCurvaturePerMm: -1 / rise,
    });
    const bar = createUnderside(shape);
    const samples = sampleBars(bar, bar, { samples: 1000 });
    // Bar frame: z = 0 on the bearing line, which lies at angle `slope` of the circle.
    const field = cylinderField([0, 0, -rise * Math.cos(slope)], [1, 0, 0], R, 'convex');
    const rows = createFootRows(samples.count);
    field.evaluate(samples.pointsMm, 0, samples.count, 'right', rows, false);
    for (let i = 0; i < samples.count; i++) expect(Math.abs(rows.distanceMm[i] - t)).toBeLessThan(1e-9);
  });

  it('no slope nor crown, rock of R - t in a valley of radius R: uniform to 1e-9 mm', () => {
    const [R, t] = [1450, 18];
    const bar = createUnderside(plainShape({ slopeRad: 0, rockCurvaturePerMm: 1 / (R - t) }));
    const samples = sampleBars(bar, bar, { samples: 1000 });
    const rows = createFootRows(samples.count);
    cylinderField([0, 0, R - t], [0, 1, 0], R, 'valley').evaluate(
      samples.pointsMm,
      0,
      samples.count,
      'right',
      rows,
      false,
    );
    for (let i = 0; i < samples.count; i++) expect(Math.abs(rows.distanceMm[i] - t)).toBeLessThan(1e-9);
  });
});

describe('torus (VALIDATION A9)', () => {
  const area = (ring: number, tube: number, from: number, to: number): number => {
    let sum = 0;
    const n = 20_000;
    for (let i = 0; i < n; i++)
      sum += ((ring + tube * Math.cos(from + ((i + 0.5) * (to - from)) / n)) * (to - from)) / n;
    return 2 * Math.PI * tube * sum;
  };

  it('areas: whole 947482.02, inner half 393316.24, tube grown by 10 mm 1065917.3', () => {
    expect(area(300, 80, 0, 2 * Math.PI)).toBeCloseTo(947_482.02, 1);
    expect(area(300, 80, Math.PI / 2, (3 * Math.PI) / 2)).toBeCloseTo(393_316.24, 1);
    expect(area(300, 90, 0, 2 * Math.PI)).toBeCloseTo(1_065_917.3, 0);
  });

  it('cells over a patch of the torus: 0.005 % from the finely summed area at 8,000 cells, of order 2', () => {
    // Patch between planes x = const is no coordinate patch: its area is summed finely as the reference.
    const areas = [500, 2000, 8000, 60_000].map((n) => {
      const tree = treeAt(0);
      const s = sampleBars(tree.left, tree.right, { samples: n });
      return { size: 1 / s.rows, mm2: s.areaMm2.reduce((a, b) => a + b, 0) };
    });
    const fine = areas[3].mm2;
    const order =
      Math.log(Math.abs(areas[0].mm2 / fine - 1) / Math.abs(areas[2].mm2 / fine - 1)) /
      Math.log(areas[0].size / areas[2].size);
    expect(Math.abs(areas[2].mm2 / fine - 1)).toBeLessThan(5e-5);
    expect(order).toBeGreaterThan(1.5);
    expect(order).toBeLessThan(2.6);
  });

  it('curvatures: 1/r and cos/(R + r cos); at the inner equator of 300, 80: K = -5.681818e-5, k2 = -1/220', () => {
    const field = torusField(300, 80);
    const rows = createFootRows(1);
    field.evaluate(Float64Array.from([0, 0, 0]), 0, 1, 'right', rows, true);
    // At the origin the tube's top lies level: Hessian rows xx and yy are the principal curvatures.
    const [xx, , , yy] = rows.hessian;
    expect(xx).toBeCloseTo(-1 / 220, 12);
    expect(yy).toBeCloseTo(1 / 80, 12);
    expect(xx * yy).toBeCloseTo(-5.681818e-5, 10);
  });
});
