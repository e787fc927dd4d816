import { describe, expect, it } from 'vitest';
import { gaussLegendre } from '../numeric/index.ts';
import type { BarShape } from './bar-shape.ts';
import { type DemoName, demoShape, plainShape } from './demo-shapes.fixture.ts';
import { type BarSamples, sampleBars } from './sample-bars.ts';
import { createHeightJet, createUnderside } from './underside.ts';

const RADIANS = Math.PI / 180;
const samplesOf = (shape: BarShape, samples = 10_000): BarSamples => {
  const bar = createUnderside(shape);
  return sampleBars(bar, bar, { samples });
};
const total = (values: Float64Array, from: number, to: number): number => {
  let sum = 0;
  for (let i = from; i < to; i++) sum += values[i];
  return sum;
};
const areaOf = (s: BarSamples): number => total(s.areaMm2, s.count / 2, s.count);
const coreOf = (s: BarSamples): number => total(s.coreAreaMm2, s.count / 2, s.count);

/** Area by a 16-point Gauss rule in each of many strips between the zones' borders: independent of the cells. */
function areaByQuadrature(shape: BarShape): number {
  const bar = createUnderside(shape);
  const jet = createHeightJet();
  const rule = gaussLegendre(16);
  const cuts = [
    0,
    shape.tipRoundMm,
    shape.flareZoneFrontMm,
    ...shape.stations.map((s) => s.atMm),
    shape.lengthMm - shape.flareZoneRearMm,
    shape.lengthMm - shape.tipRoundMm,
    shape.lengthMm,
  ].sort((a, b) => a - b);
  const strip = 1 - 2 * shape.reliefFraction;
  let sum = 0;
  for (let c = 0; c + 1 < cuts.length; c++) {
    rule.nodes.forEach((node, i) => {
      const b = cuts[c] + node * (cuts[c + 1] - cuts[c]);
      const row = bar.row(b);
      for (const [t0, t1] of [
        [-1, -strip],
        [-strip, strip],
        [strip, 1],
      ]) {
        rule.nodes.forEach((across, j) => {
          const y = row.middleY[0] + (t0 + across * (t1 - t0)) * row.outlineHalfWidthY;
          bar.heightJet(row, y, jet);
          const w = rule.weights[i] * (cuts[c + 1] - cuts[c]) * rule.weights[j] * (t1 - t0) * row.outlineHalfWidthY;
          sum += w * Math.sqrt(1 + jet.zb * jet.zb + jet.zy * jet.zy);
        });
      }
    });
  }
  return sum;
}

describe('area of the underside', () => {
  it('closed forms: flat L w; rock alone arc x w; crown alone L x arc (within 1e-5 at 10,000 cells)', () => {
    const [L, w, R, Rc] = [500, 120, 1450, 450];
    expect(areaOf(samplesOf(plainShape())) / (L * w)).toBeCloseTo(1, 10);
    const rocked = areaOf(samplesOf(plainShape({ slopeRad: 0, rockCurvaturePerMm: 1 / R })));
    expect(Math.abs(rocked / (2 * R * Math.asin(L / 2 / R) * w) - 1)).toBeLessThan(1e-5);
    const crowned = areaOf(samplesOf(plainShape({ crownCurvaturePerMm: 1 / Rc })));
    expect(Math.abs(crowned / (2 * Rc * Math.asin(w / 2 / Rc) * L) - 1)).toBeLessThan(1e-5);
  });

  it('rounded corners take (4 - pi) r^2 off a flat bar (537 mm2 within 1 %)', () => {
    const whole = areaOf(samplesOf(plainShape(), 40_000));
    const round = areaOf(samplesOf(plainShape({ tipRoundMm: 25 }), 40_000));
    expect(Math.abs(whole - round - (4 - Math.PI) * 625)).toBeLessThan(5.4);
  });

  for (const name of ['wren', 'post', 'rail'] as const) {
    it(`${name}: order 2 towards the quadrature, below 0.1 % at 10,000 cells (relief strips are two cells wide there)`, () => {
      const shape: BarShape = { ...demoShape(name), slotWidthMm: 0, tipRoundMm: 0 };
      const exact = areaByQuadrature(shape);
      const errors = [600, 2400, 9600, 38_400].map((n) => {
        // Cells count rows x columns, so the size is the square root of the area per cell.
        const s = samplesOf(shape, n);
        return { size: Math.sqrt(exact / (s.count / 2)), error: Math.abs(areaOf(s) / exact - 1) };
      });
      const order = Math.log(errors[0].error / errors[3].error) / Math.log(errors[0].size / errors[3].size);
      expect(errors[2].error).toBeLessThan(1e-3);
      expect(order).toBeGreaterThan(1.5);
      expect(order).toBeLessThan(2.6);
    });
  }
});

describe('slot and core zone', () => {
  it('slot of 70 x 22 mm takes 1540 mm2 out of a flat bar, wherever it lies across the cells', () => {
    for (const slotAcross of [0.3, 0.5, 0.61]) {
      const plain = samplesOf(plainShape());
      const cut = samplesOf(plainShape({ slotLengthMm: 70, slotWidthMm: 22, slotCentreMm: 223, slotAcross }));
      expect(areaOf(plain) - areaOf(cut)).toBeCloseTo(1540, 6);
    }
  });

  it('core zone of a flat bar: 0.7 L x w (1 - outer relief), slot out', () => {
    const shape = plainShape({ reliefFraction: 0.08, slotLengthMm: 70, slotWidthMm: 22, slotCentreMm: 225 });
    expect(coreOf(samplesOf(shape))).toBeCloseTo(0.7 * 500 * 120 * 0.92 - 1540, 5);
  });

  it('on the demo bars the core is part of the whole and the slot takes its own size within 3 %', () => {
    for (const name of ['wren', 'post', 'rail'] as const) {
      const shape = demoShape(name);
      const s = samplesOf(shape);
      for (let i = 0; i < s.count; i++) {
        // Cells wholly in the slot have no area: never a negative rest of rounding.
        expect(s.areaMm2[i]).toBeGreaterThanOrEqual(0);
        expect(s.coreAreaMm2[i]).toBeLessThanOrEqual(s.areaMm2[i] * (1 + 1e-12));
      }
      const taken = areaOf(samplesOf({ ...shape, slotWidthMm: 0 })) - areaOf(s);
      expect(Math.abs(taken / (shape.slotLengthMm * shape.slotWidthMm) - 1)).toBeLessThan(0.03);
    }
  });
});

describe('cells', () => {
  const names: readonly DemoName[] = ['wren', 'post', 'rail'];

  it('left is the mirror of right: same x, z, areas, and y and its normal with the other sign', () => {
    for (const name of names) {
      const s = samplesOf(demoShape(name), 2000);
      const half = s.count / 2;
      for (let i = 0; i < half; i++) {
        const [l, r] = [3 * i, 3 * (i + half)];
        for (const array of [s.pointsMm, s.normals]) {
          expect(array[l]).toBe(array[r]);
          expect(array[l + 1]).toBe(-array[r + 1]);
          expect(array[l + 2]).toBe(array[r + 2]);
        }
        expect(s.areaMm2[i]).toBe(s.areaMm2[i + half]);
        expect(s.coreAreaMm2[i]).toBe(s.coreAreaMm2[i + half]);
      }
    }
  });

  it('normals are unit, point to the horse, and stand across the surface (dot with tangents below 1e-5)', () => {
    const shape = demoShape('post');
    const bar = createUnderside(shape);
    const s = samplesOf(shape, 800);
    for (let i = s.count / 2; i < s.count; i++) {
      const [nx, ny, nz] = s.normals.subarray(3 * i, 3 * i + 3);
      expect(Math.hypot(nx, ny, nz)).toBeCloseTo(1, 12);
      expect(nz).toBeLessThan(0);
      const b = s.bMm[i];
      const y = s.pointsMm[3 * i + 1];
      const z = (bb: number, yy: number): number => bar.heightJet(bar.row(bb), yy, createHeightJet()).z;
      const h = 1e-3;
      expect(Math.abs(nx * 2 * h + nz * (z(b + h, y) - z(b - h, y))) / (2 * h)).toBeLessThan(1e-5);
      expect(Math.abs(ny * 2 * h + nz * (z(b, y + h) - z(b, y - h))) / (2 * h)).toBeLessThan(1e-5);
    }
  });

  it('there are about as many cells as asked for, nearly square, within the outline', () => {
    for (const wanted of [400, 2000, 10_000, 50_000]) {
      const s = samplesOf(demoShape('post'), wanted);
      expect(Math.abs(s.count / wanted - 1)).toBeLessThan(0.15);
      const cell = s.lengthMm / s.rows / (125 / s.columns);
      expect(cell).toBeGreaterThan(0.5);
      expect(cell).toBeLessThan(5.4);
      expect(Math.min(...s.t)).toBeGreaterThan(-1);
      expect(Math.max(...s.t)).toBeLessThan(1);
    }
  });

  it('the front tip edge lies the low point ahead of the origin', () => {
    const s = samplesOf({ ...demoShape('post'), rockLowPointMm: 200 });
    expect(s.frontTipXMm).toBe(-200);
    for (let i = 0; i < s.count; i++) expect(s.pointsMm[3 * i]).toBeCloseTo(s.bMm[i] - 200, 12);
  });

  it('bars with slopes of 20 to 47 degrees project less than their area by the cosine', () => {
    const s = samplesOf(plainShape({ slopeRad: 40 * RADIANS }));
    let projected = 0;
    for (let i = s.count / 2; i < s.count; i++) projected += s.areaMm2[i] * -s.normals[3 * i + 2];
    expect(projected / areaOf(s)).toBeCloseTo(Math.cos(40 * RADIANS), 12);
  });
});
