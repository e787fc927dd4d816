import { describe, expect, it } from 'vitest';
import { seededRandom } from '../numeric/index.ts';
import { createFootRows } from '../spatial/index.ts';
import { type DemoBack, demoBack } from './demo-backs.fixture.ts';
import { createSectionDistance } from './section-distance.ts';
import { createSectionHeight, type SectionHeight } from './section-height.ts';
import { createSurfaceJet } from './surface-jet.ts';

const BACKS: readonly DemoBack[] = ['dumpling', 'heron', 'tuesday'];
const OFFSETS = [-15, -6, 0, 4, 12, 25, 45, 60];

/** Nearest sampled point: a 2.5 mm net over a window wider than the distance, then four finer nets about the best. */
function bruteDistance(height: SectionHeight, p: readonly [number, number, number], reach: number): number {
  let best = { x: p[0], y: p[1], squared: Number.POSITIVE_INFINITY };
  let half = Math.abs(reach) + 25;
  let step = 2.5;
  for (let level = 0; level < 5; level++) {
    const { x: cx, y: cy } = best;
    for (let x = cx - half; x <= cx + half; x += step) {
      const row = height.row(x);
      for (let y = cy - half; y <= cy + half; y += step) {
        const squared = (x - p[0]) ** 2 + (y - p[1]) ** 2 + (row(y) - p[2]) ** 2;
        if (squared < best.squared) best = { x, y, squared };
      }
    }
    half = 1.5 * step;
    step /= 8;
  }
  return Math.sqrt(best.squared);
}

/** Points lifted off the surface by d along its normal, where bars can lie. */
function lifted(height: SectionHeight, count: number, seed: number) {
  const random = seededRandom(seed);
  const jet = createSurfaceJet();
  return Array.from({ length: count }, (_, i) => {
    const x = -60 + 640 * random();
    const y = (random() < 0.5 ? -1 : 1) * (45 + 150 * random());
    height.jet(x, y, jet);
    const g = Math.hypot(1, jet.zx, jet.zy);
    const d = OFFSETS[i % OFFSETS.length];
    const p: [number, number, number] = [x - (d * jet.zx) / g, y - (d * jet.zy) / g, jet.z + d / g];
    return { p, d };
  });
}

describe('exact distance to a back from sections', () => {
  for (const name of BACKS) {
    const height = createSectionHeight(demoBack(name), { left: 0, right: 0 });
    const field = createSectionDistance(height);
    const ask = (points: readonly (readonly number[])[]) => {
      const rows = createFootRows(points.length);
      field.evaluate(Float64Array.from(points.flat()), 0, points.length, 'right', rows, true);
      return rows;
    };

    it(`${name}: agrees with dense sampling to 0.0005 mm from 15 mm inside to 60 mm outside (seed 31, 48 points)`, () => {
      const points = lifted(height, 48, 31);
      const rows = ask(points.map(({ p }) => p));
      points.forEach(({ p, d }, i) => {
        expect(rows.hasData[i]).toBe(1);
        const brute = bruteDistance(height, p, d);
        expect(Math.abs(Math.abs(rows.distanceMm[i]) - brute)).toBeLessThan(5e-4);
        if (d !== 0) expect(Math.sign(rows.distanceMm[i])).toBe(Math.sign(d));
      });
    });

    it(`${name}: a start from some other place's foot changes no answer (seed 33, 60 points)`, () => {
      const points = lifted(height, 60, 33).map(({ p }) => p);
      const plain = ask(points);
      const hinted = createFootRows(points.length);
      hinted.hasData.fill(1);
      points.forEach((_, i) => {
        hinted.footMm.set(plain.footMm.subarray(3 * ((i + 7) % 60), 3 * ((i + 7) % 60) + 3), 3 * i);
      });
      const flat = Float64Array.from(points.flat());
      field.evaluate(flat, 0, points.length, 'right', hinted, true, { nearRows: true });
      expect(hinted.hasData).toEqual(plain.hasData);
      for (const i of points.keys()) expect(Math.abs(hinted.distanceMm[i] - plain.distanceMm[i])).toBeLessThan(1e-8);
    });

    it(`${name}: the nearest of several feet, 45 and 60 mm off the shoulder (seed 34)`, () => {
      const points = lifted(height, 480, 34).filter(({ p, d }) => d >= 45 && p[0] < 120);
      const rows = ask(points.map(({ p }) => p));
      expect(points.length).toBeGreaterThan(20);
      points.forEach(({ p, d }, i) => {
        expect(rows.hasData[i]).toBe(1);
        expect(Math.abs(rows.distanceMm[i] - bruteDistance(height, p, d))).toBeLessThan(5e-4);
      });
    });

    it(`${name}: foot on the surface, foot + d n = the point, normal = the distance's slope (seed 32)`, () => {
      const points = lifted(height, 80, 32).map(({ p }) => p);
      const rows = ask(points);
      const h = 1e-4;
      points.forEach((p, i) => {
        const foot = rows.footMm.subarray(3 * i, 3 * i + 3);
        const n = rows.normal.subarray(3 * i, 3 * i + 3);
        expect(Math.abs(height.row(foot[0])(foot[1]) - foot[2])).toBeLessThan(1e-6);
        for (let a = 0; a < 3; a++) {
          expect(Math.abs(foot[a] + rows.distanceMm[i] * n[a] - p[a])).toBeLessThan(1e-6);
          const [ahead, behind] = [1, -1].map((s) => ask([p.map((v, k) => (k === a ? v + s * h : v))]).distanceMm[0]);
          expect(Math.abs((ahead - behind) / (2 * h) - n[a])).toBeLessThan(2e-4);
        }
      });
    });

    it(`${name}: Hessian agrees with differences of the normal to 1e-4 per mm of itself and kills the normal (seed 33)`, () => {
      const points = lifted(height, 60, 33).map(({ p }) => p);
      const rows = ask(points);
      const h = 1e-3;
      let compared = 0;
      points.forEach((p, i) => {
        const six = rows.hessian.subarray(6 * i, 6 * i + 6);
        const full = [six[0], six[1], six[2], six[1], six[3], six[4], six[2], six[4], six[5]];
        const n = rows.normal.subarray(3 * i, 3 * i + 3);
        for (let a = 0; a < 3; a++) {
          const along = full[3 * a] * n[0] + full[3 * a + 1] * n[1] + full[3 * a + 2] * n[2];
          expect(Math.abs(along)).toBeLessThan(1e-12);
        }
        // Second derivatives jump where slopes have their knots: those feet are left out.
        const footY = Math.abs(rows.footMm[3 * i + 1]);
        if ([60, 80, 120, 160, 180, 200].some((knot) => Math.abs(knot - footY) < 0.05)) return;
        for (let b = 0; b < 3; b++) {
          const [ahead, behind] = [1, -1].map((s) => ask([p.map((v, k) => (k === b ? v + s * h : v))]).normal);
          for (let a = 0; a < 3; a++) {
            expect(Math.abs((ahead[a] - behind[a]) / (2 * h) - full[3 * a + b])).toBeLessThan(1e-5);
          }
        }
        compared++;
      });
      expect(compared).toBeGreaterThan(50);
    });

    it(`${name}: beyond the border there is no data, and a foot on the border is none`, () => {
      const rows = ask([
        [-160, 120, 40],
        [760, 120, 90],
        [300, 320, -160],
        [300, 120, 10],
      ]);
      expect(Array.from(rows.hasData)).toEqual([0, 0, 0, 1]);
    });
  }
});
