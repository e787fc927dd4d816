import { describe, expect, it } from 'vitest';
import { buildSectionsBack } from '../back/build-sections-back.ts';
import { demoBack } from '../back/demo-backs.fixture.ts';
import { demoTree } from '../bar/demo-tree.fixture.ts';
import { seededRandom } from '../numeric/index.ts';
import { areaQuantile, contactFigures } from './contact-figures.ts';
import { peakOverDisc } from './peak-over-disc.ts';
import { type SeatedTree, seatTree } from './seat-tree.ts';
import { SETUP_DEFAULTS } from './setup-schema.ts';

const seatedOn = (name: 'dumpling' | 'heron' | 'tuesday', samples: number): SeatedTree =>
  seatTree(demoTree('post'), buildSectionsBack(demoBack(name)), { ...SETUP_DEFAULTS, samples });

/** Highest mean over the disc by looking at every pair of cells of a bar. */
function bruteForcePeak({ samples, seat }: SeatedTree, pressure: Float64Array, discMm2: number): number {
  const p = seat.placedMm;
  let best = 0;
  for (const bar of samples.bars) {
    for (let i = bar.from; i < bar.to; i++) {
      if (!(pressure[i] > 0)) continue;
      let [area, force] = [0, 0];
      for (let k = bar.from; k < bar.to; k++) {
        const d2 = (p[3 * k] - p[3 * i]) ** 2 + (p[3 * k + 1] - p[3 * i + 1]) ** 2 + (p[3 * k + 2] - p[3 * i + 2]) ** 2;
        if (d2 > discMm2 / Math.PI) continue;
        area += samples.areaMm2[k];
        force += samples.areaMm2[k] * pressure[k];
      }
      if (area > 0) best = Math.max(best, force / area);
    }
  }
  return best;
}

describe('peak over the averaging disc', () => {
  for (const name of ['heron', 'dumpling'] as const) {
    for (const discMm2 of [100, 400, 1500]) {
      it(`${name}, ${discMm2 / 100} cm2: the same as looking at every pair of cells`, () => {
        const seated = seatedOn(name, 3000);
        const found = peakOverDisc(seated.samples, seated.seat.placedMm, seated.seat.pressureMPa, discMm2);
        expect(found.pressureMPa).toBeCloseTo(bruteForcePeak(seated, seated.seat.pressureMPa, discMm2), 12);
      });
    }
  }

  it('random pressures: the same as looking at every pair of cells, wherever the high cell lies (seed 61)', () => {
    const random = seededRandom(61);
    const seated = seatedOn('heron', 1500);
    for (let round = 0; round < 5; round++) {
      const pressure = seated.seat.pressureMPa.map(() => random() ** 8);
      const found = peakOverDisc(seated.samples, seated.seat.placedMm, pressure, 400);
      expect(found.pressureMPa).toBeCloseTo(bruteForcePeak(seated, pressure, 400), 12);
    }
  });

  it('a uniform pressure has itself as peak, and a wider disc never raises the peak of one high cell', () => {
    const seated = seatedOn('heron', 1500);
    const level = seated.seat.pressureMPa.map(() => 0.01);
    expect(peakOverDisc(seated.samples, seated.seat.placedMm, level, 400).pressureMPa).toBeCloseTo(0.01, 12);
    const spike = seated.seat.pressureMPa.map((_, i) => (i === 1000 ? 1 : 0.001));
    const peaks = [50, 200, 800].map((d) => peakOverDisc(seated.samples, seated.seat.placedMm, spike, d).pressureMPa);
    expect(peaks[1]).toBeLessThanOrEqual(peaks[0]);
    expect(peaks[2]).toBeLessThan(peaks[1]);
  });
});

describe('quantile by area', () => {
  it('below it lies less than the share of the contact area, up to it at least the share (seed 62)', () => {
    const random = seededRandom(62);
    const seated = seatedOn('heron', 400);
    for (const share of [0.05, 0.5, 0.95, 1]) {
      const pressure = seated.seat.pressureMPa.map(() => Math.max(0, random() - 0.4));
      const q = areaQuantile(seated.samples, pressure, share);
      let [below, upTo, all] = [0, 0, 0];
      pressure.forEach((p, i) => {
        if (!(p > 0)) return;
        const a = seated.samples.areaMm2[i];
        all += a;
        if (p < q) below += a;
        if (p <= q) upTo += a;
      });
      expect(below).toBeLessThan(share * all);
      expect(upTo).toBeGreaterThanOrEqual(share * all * (1 - 1e-12));
    }
  });

  it('without contact it is 0', () => {
    const seated = seatedOn('heron', 400);
    expect(areaQuantile(seated.samples, new Float64Array(seated.samples.count), 0.95)).toBe(0);
  });
});

describe('figures are plain sums over the cells', () => {
  it('areas, mean, shares and centre of pressure from the cells alone', () => {
    const seated = seatedOn('tuesday', 2000);
    const { samples, seat } = seated;
    const f = contactFigures(seated);
    let [area, press, vertical, front, x] = [0, 0, 0, 0, 0];
    for (let i = 0; i < samples.count; i++) {
      if (!(seat.pressureMPa[i] > 0)) continue;
      const v = seat.pressureMPa[i] * samples.areaMm2[i] * seat.rows.normal[3 * i + 2];
      area += samples.areaMm2[i];
      press += seat.pressureMPa[i] * samples.areaMm2[i];
      vertical += v;
      x += v * seat.placedMm[3 * i];
      if (samples.bMm[i] < samples.lengthMm / 3) front += v;
    }
    expect(f.areaCm2).toBeCloseTo(area / 100, 9);
    expect(f.meanPressureKPa).toBeCloseTo((1000 * press) / area, 9);
    expect(f.shareFront).toBeCloseTo(front / vertical, 9);
    expect(f.centreOfPressureXMm).toBeCloseTo(x / vertical, 6);
    expect(f.loadOverAreaKPa).toBeCloseTo((1000 * seated.loadN) / area, 9);
    // Pressures act along the slope: their mean exceeds the load over the same area.
    expect(f.meanPressureKPa).toBeGreaterThan(f.loadOverAreaKPa);
    expect(vertical).toBeCloseTo(seated.loadN, 2);
  });
});
