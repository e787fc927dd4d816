import type { Chart } from './chart.ts';
import { prefilterSpline } from './prefilter-spline.ts';

export interface ChartLift {
  /** The lift is 0 outside these. */
  readonly fromXMm: number;
  readonly toXMm: number;
  /** Added height along z at (x, y), mm, continuous. */
  at(xMm: number, yMm: number): number;
  /** The same along one row of constant x, where that is cheaper. */
  row?(xMm: number): (yMm: number) => number;
}

/** Nodes over which the change of a coefficient dies away: the spline's pole 0.17 to the 14th is 2e-11. */
const MARGIN = 14;
const MOST_STEPS = 40;
/** Full steps serve lifts whose slope is below 45 degrees; steeper ones swing about the foot and are damped. */
const FULL_STEPS = 6;
const DAMPED = 0.6;
const FOOT_TOLERANCE_MM = 1e-7;

/**
 * The chart of the same surface with heights added along z. A node above (u, v) then meets the surface point that was at
 * v0 = v + s h(x, y(v0)), so w = f(u, v0) + c h: found row by row by a damped fixed point on the chart's own spline. Only
 * the rows in the lift's range are worked out; the rest of the spline changes by what the prefilter spreads.
 * Beyond the data the lift is taken at the chart's continuation and the mask stays as it is.
 */
export function raiseChart(chart: Chart, lift: ChartLift): Chart {
  const { u0Mm, cellMm, nu, nv } = chart;
  const first = Math.max(0, Math.ceil((lift.fromXMm - u0Mm) / cellMm));
  const last = Math.min(nu - 1, Math.floor((lift.toXMm - u0Mm) / cellMm));
  if (last < first) return chart;
  const from = Math.max(0, first - MARGIN);
  const to = Math.min(nu - 1, last + MARGIN);
  const rows = to - from + 1;
  const added = new Float64Array(rows * nv);
  const heights = new Float64Array(nv);
  for (let i = first; i <= last; i++) raiseRow(chart, lift, i, heights, added, (i - from) * nv);
  prefilterSpline(added, rows, nv);
  const coefficients = chart.coefficients.slice();
  for (let k = 0; k < added.length; k++) coefficients[from * nv + k] += added[k];
  return { ...chart, coefficients };
}

/** Writes what one row of nodes rises by. */
function raiseRow(
  chart: Chart,
  lift: ChartLift,
  i: number,
  heights: Float64Array,
  added: Float64Array,
  at: number,
): void {
  const { v0Mm, cellMm, nv, cosTilt: c, sinTilt: s } = chart;
  const x = chart.u0Mm + i * cellMm;
  const liftAt = lift.row?.(x) ?? ((y: number): number => lift.at(x, y));
  nodeHeights(chart, i, heights);
  for (let j = 0; j < nv; j++) {
    const v = v0Mm + j * cellMm;
    let foot = v;
    let w = heights[j];
    let h = liftAt(c * foot + s * w);
    if (h === 0) continue;
    for (let step = 0; step < MOST_STEPS; step++) {
      foot += (step < FULL_STEPS ? 1 : DAMPED) * (v + s * h - foot);
      w = alongRow(chart, heights, foot);
      h = liftAt(c * foot + s * w);
      if (Math.abs(v + s * h - foot) < FOOT_TOLERANCE_MM) break;
    }
    added[at + j] = w + c * h - heights[j];
  }
}

/** The spline's values at the nodes of row i: (c_{-1} + 6 c_0 + c_1) / 8 both ways. */
function nodeHeights({ coefficients: k, nu, nv }: Chart, i: number, out: Float64Array): void {
  const before = Math.max(0, i - 1) * nv;
  const here = i * nv;
  const after = Math.min(nu - 1, i + 1) * nv;
  const isRim = i === 0 || i === nu - 1;
  const column = (j: number): number => (isRim ? k[here + j] : (k[before + j] + 6 * k[here + j] + k[after + j]) / 8);
  for (let j = 0; j < nv; j++) {
    out[j] = j === 0 || j === nv - 1 ? column(j) : (column(j - 1) + 6 * column(j) + column(j + 1)) / 8;
  }
}

/** Height between the nodes of a row, by the cubic through the four nearest: within 1e-4 mm of the spline on backs. */
function alongRow({ v0Mm, cellMm, nv }: Chart, heights: Float64Array, v: number): number {
  const t = Math.min(nv - 1, Math.max(0, (v - v0Mm) / cellMm));
  const j = Math.min(nv - 3, Math.max(1, Math.floor(t)));
  const p = t - j;
  const [a, b, c, d] = [heights[j - 1], heights[j], heights[j + 1], heights[j + 2]];
  return b + 0.5 * p * (c - a + p * (2 * a - 5 * b + 4 * c - d + p * (3 * (b - c) + d - a)));
}
