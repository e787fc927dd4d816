import { afterEach, describe, expect, it, vi } from 'vitest';
import { seededRandom } from '../numeric/index.ts';
import { buildChartFromHeights } from './build-chart-from-heights.ts';
import { createFootRows, type Side } from './distance-field.ts';
import { evaluateChart } from './evaluate-chart.ts';
import { createWasmChart } from './wasm-chart.ts';

afterEach(() => {
  vi.unstubAllGlobals();
});

/** A saddle with waves of some 100 mm, falling 27 degrees outward at most. */
const heightMm = (x: number, y: number): number =>
  0.0002 * (x - 300) ** 2 - 0.0012 * y * y + 1.5 * Math.sin(x / 31) * Math.cos(y / 27);

const chartOf = (side: Side) => {
  const sign = side === 'right' ? 1 : -1;
  const v: [number, number] = side === 'right' ? [0, 260] : [-260, 0];
  return { sign, chart: buildChartFromHeights(side, 0.3, [-60, 640], v, 2, (x) => (y) => heightMm(x, y)) };
};

describe('createWasmChart', () => {
  for (const side of ['left', 'right'] as const) {
    it(`${side}: 5003 points 15 mm in to 20 mm off: distance within 0.003 mm of plain JS, foot 0.1 mm, same data (seed 71)`, () => {
      const { sign, chart } = chartOf(side);
      const random = seededRandom(71);
      const n = 5003;
      const points = new Float64Array(3 * n);
      for (let k = 0; k < n; k++) {
        const x = -80 + 740 * random();
        const y = sign * (20 + 190 * random());
        points.set([x, y, heightMm(x, y) - 15 + 35 * random()], 3 * k);
      }
      const plain = createFootRows(n);
      evaluateChart(chart, points, 0, n, plain, false);
      const rows = createFootRows(n);
      createWasmChart(chart)?.evaluate(points, 0, n, rows);
      let answered = 0;
      for (let k = 0; k < n; k++) {
        if (rows.hasData[k] + plain.hasData[k] < 2) continue;
        answered++;
        expect(Math.abs(rows.distanceMm[k] - plain.distanceMm[k])).toBeLessThan(3e-3);
        for (let a = 3 * k; a < 3 * k + 3; a++) expect(Math.abs(rows.footMm[a] - plain.footMm[a])).toBeLessThan(0.1);
      }
      const disagree = rows.hasData.reduce((sum, has, k) => sum + (has === plain.hasData[k] ? 0 : 1), 0);
      expect(answered).toBeGreaterThan(4000);
      expect(disagree).toBeLessThan(0.005 * n);
    });
  }

  it('answers no data, and nothing that is not finite, for NaN, infinite and far points', () => {
    const { chart } = chartOf('right');
    const points = Float64Array.of(Number.NaN, 100, 0, 100, Number.POSITIVE_INFINITY, 0, 1e9, 0, 0, 100, 100, 1e30);
    const rows = createFootRows(4);
    createWasmChart(chart)?.evaluate(points, 0, 4, rows);
    expect([...rows.hasData].slice(0, 3)).toEqual([0, 0, 0]);
    for (let k = 0; k < 4; k++) if (rows.hasData[k] === 1) expect(Number.isFinite(rows.distanceMm[k])).toBe(true);
  });

  it('is null where the engine has no WebAssembly', () => {
    const { chart } = chartOf('right');
    vi.stubGlobal('WebAssembly', undefined);
    expect(createWasmChart(chart)).toBeNull();
  });
});
