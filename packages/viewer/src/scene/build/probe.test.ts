import { SETUP_DEFAULTS } from '@barwright/geometry';
import { describe, expect, test } from 'vitest';
import { demoBack, FIRST_DOCUMENTS } from '../../files/demos.ts';
import { createEngine } from '../../worker/engine.ts';
import { cellAt, fallDeg, placeAcross, placeUnder, readCell } from './probe.ts';
import { rayHit } from './ray-hit.ts';

const engine = createEngine();
const asked = {
  version: 1,
  pattern: FIRST_DOCUMENTS.pattern,
  setup: { ...SETUP_DEFAULTS, samples: 2000 },
  backId: 1,
  back: demoBack('dumpling')!,
};
const fit = engine.figures(asked);
const back = engine.back(asked);

describe('ray against triangles', () => {
  test('meets the nearer of two, with weights that give the place', () => {
    const flat = (z: number): number[] => [0, 0, z, 10, 0, z, 0, 10, z];
    const hit = rayHit({ origin: [2, 3, 20], towards: [0, 0, -2] }, [...flat(0), ...flat(5)], [0, 1, 2, 3, 4, 5])!;
    expect(hit.triangle).toBe(3);
    expect(hit.distance).toBeCloseTo(7.5, 12);
    expect(hit.weights.map((w) => Math.round(w * 1e9) / 1e9)).toEqual([0.5, 0.2, 0.3]);
    expect(rayHit({ origin: [9, 9, 20], towards: [0, 0, -1] }, flat(0), [0, 1, 2])).toBeNull();
  });
});

describe('the probe', () => {
  test('says of each cell exactly what the fit has there', () => {
    for (const side of ['left', 'right'] as const) {
      const bar = fit.bars[side];
      for (let k = 0; k < bar.bMm.length; k += 37) {
        const said = readCell(bar, side, k);
        expect([said.bMm, said.xMm, said.yMm]).toEqual([bar.bMm[k], bar.positions[3 * k], bar.positions[3 * k + 1]]);
        expect([said.thicknessMm, said.giveMm]).toEqual([bar.thicknessMm[k], bar.giveMm[k]]);
        const known = !Number.isNaN(bar.gapMm[k]!);
        expect([said.gapMm, said.pressureKPa]).toEqual(known ? [bar.gapMm[k], bar.pressureKPa[k]] : [null, null]);
        expect(said.hasData).toBe(known);
      }
    }
  });

  test('slopes are those of the station cut at the middle of the bar, within the cut’s chord', () => {
    const x = 250;
    const cut = engine.cut(x)!;
    for (const side of ['left', 'right'] as const) {
      const bar = fit.bars[side];
      const cell = cellAt(bar, bar.columns >> 1, x)!;
      const said = readCell(bar, side, cell);
      // The cut reads a chord edge to edge, the probe the slope at one place: a crown parts them by a few degrees.
      expect(Math.abs(said.barSlopeDeg - cut[side]!.barSlopeDeg)).toBeLessThan(4);
      expect(Math.abs(said.backSlopeDeg! - cut[side]!.backSlopeDeg!)).toBeLessThan(6);
      expect(said.barSlopeDeg).toBeGreaterThan(10);
    }
  });

  test('a plane that falls 30° to the right falls so for the right bar, and rises for the left', () => {
    const n = [0, Math.sin(Math.PI / 6), Math.cos(Math.PI / 6)];
    expect(fallDeg(n, 0, 'right')).toBeCloseTo(30, 10);
    expect(
      fallDeg(
        n.map((v) => -v),
        0,
        'right',
      ),
    ).toBeCloseTo(30, 10);
    expect(fallDeg(n, 0, 'left')).toBeCloseTo(-30, 10);
  });

  test('a ray from below through a cell finds that cell; beside the bars it finds the back', () => {
    for (const side of ['left', 'right'] as const) {
      const bar = fit.bars[side];
      for (const cell of [3 * bar.columns + 2, 20 * bar.columns + 5]) {
        const [x, y, z] = bar.positions.subarray(3 * cell, 3 * cell + 3) as unknown as [number, number, number];
        const ray = { origin: [x, y, z - 500], towards: [0, 0, 1] } as const;
        expect(placeUnder(ray, fit.bars, back)).toEqual({ on: 'bar', side, cell });
      }
    }
    const beside = placeUnder({ origin: [200, 5, 500], towards: [0, 0, -1] }, fit.bars, back)!;
    expect(beside.on).toBe('back');
    if (beside.on === 'back') expect([beside.atMm[0], beside.atMm[1]]).toEqual([200, 5]);
    expect(placeUnder({ origin: [200, 5, 500], towards: [0, 0, 1] }, fit.bars, back)).toBeNull();
  });

  test('steps across go from the left outer edge over the middle to the right outer edge, at the marker', () => {
    const columns = fit.bars.left.columns;
    const across = Array.from({ length: 2 * columns }, (_, k) => placeAcross(fit.bars, k, 220)!);
    const ys = across.map((p) => (p.on === 'bar' ? fit.bars[p.side].positions[3 * p.cell + 1]! : Number.NaN));
    for (let k = 1; k < ys.length; k++) expect(ys[k]).toBeGreaterThan(ys[k - 1]!);
    expect(placeAcross(fit.bars, 0, 2000)).toBeNull();
  });
});
