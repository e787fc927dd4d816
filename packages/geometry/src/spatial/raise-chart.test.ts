import { describe, expect, it } from 'vitest';
import { buildChartFromHeights } from './build-chart-from-heights.ts';
import { createChartField } from './create-chart-field.ts';
import { createFootRows } from './distance-field.ts';
import { type ChartLift, raiseChart } from './raise-chart.ts';
import { mulberry32 } from './seeded.fixture.ts';

/** A hollow, sloping surface and a bump on it; the raised chart against the chart of the sum built afresh. */
const ground = (x: number, y: number): number => 60 - 0.0003 * (x - 200) ** 2 - 0.6 * Math.abs(y) - 0.0008 * y * y;
const bump = (heightMm: number): ChartLift => ({
  fromXMm: 20,
  toXMm: 140,
  at: (x, y) => {
    const ramp = (t: number): number => (t <= 0 ? 0 : t >= 1 ? 1 : (1 - Math.cos(Math.PI * t)) / 2);
    const along = Math.min(ramp((x - 20) / 40), ramp((140 - x) / 40));
    return heightMm * along * Math.min(ramp((Math.abs(y) - 60) / 40), ramp((210 - Math.abs(y)) / 40));
  },
});

const chartOf = (side: 'left' | 'right', tiltDeg: number, lift: ChartLift | null) =>
  buildChartFromHeights(
    side,
    (tiltDeg * Math.PI) / 180,
    [-100, 500],
    side === 'right' ? [-60, 260] : [-260, 60],
    2,
    (x) => (y) => ground(x, y) + (lift !== null && x >= lift.fromXMm && x <= lift.toXMm ? lift.at(x, y) : 0),
    { yRangeMm: side === 'right' ? [-20, 260] : [-260, 20] },
  );

describe('a chart raised by a bump is the chart of surface and bump', () => {
  for (const [tiltDeg, heightMm] of [
    [0, 14],
    [30, 14],
    [42, 14],
    [42, -9],
    [38, 30],
  ] as const) {
    it(`tilt ${tiltDeg} degrees, bump ${heightMm} mm: node for node within 0.002 mm, both sides`, () => {
      for (const side of ['left', 'right'] as const) {
        const lift = bump(heightMm);
        const raised = raiseChart(chartOf(side, tiltDeg, null), lift);
        const fresh = chartOf(side, tiltDeg, lift);
        let worst = 0;
        let touched = 0;
        for (let k = 0; k < fresh.coefficients.length; k++) {
          if (fresh.stencilOk[k] === 0) continue;
          worst = Math.max(worst, Math.abs(fresh.coefficients[k] - raised.coefficients[k]));
          touched++;
        }
        expect(touched).toBeGreaterThan(20_000);
        expect(worst).toBeLessThan(2e-3);
      }
    });
  }

  it('a lift of nothing changes nothing, and a lift off the grid gives the chart back (bit for bit)', () => {
    const chart = chartOf('right', 35, null);
    expect(raiseChart(chart, { ...bump(0) }).coefficients).toEqual(chart.coefficients);
    expect(raiseChart(chart, { ...bump(14), fromXMm: 900, toXMm: 950 })).toBe(chart);
  });

  it('distances to it are those to the fresh chart within 0.002 mm (seed 71, 500 points)', () => {
    const random = mulberry32(71);
    const lift = bump(14);
    const fields = [null, lift].map((of) =>
      createChartField(
        chartOf('left', 40, of),
        of === null ? raiseChart(chartOf('right', 40, null), lift) : chartOf('right', 40, of),
      ),
    );
    const points = new Float64Array(1500);
    for (let i = 0; i < 500; i++) {
      const [x, y] = [random() * 200, 70 + random() * 120];
      points.set([x, y + 6, ground(x, y) + lift.at(x, y) + 12], 3 * i);
    }
    const [a, b] = fields.map((field) => {
      const rows = createFootRows(500);
      field.evaluate(points, 0, 500, 'right', rows, false);
      return rows;
    });
    for (let i = 0; i < 500; i++) {
      expect(a.hasData[i]).toBe(b.hasData[i]);
      expect(Math.abs(a.distanceMm[i] - b.distanceMm[i])).toBeLessThan(2e-3);
    }
  });
});
