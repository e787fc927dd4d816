import type { Chart } from './chart.ts';
import type { DistanceField } from './distance-field.ts';
import { evaluateChart } from './evaluate-chart.ts';

/** The fast path: one chart for each bar, chosen by the query's side. */
export function createChartField(left: Chart, right: Chart): DistanceField {
  if (left.side !== 'left' || right.side !== 'right') {
    throw new RangeError(`expected a left and a right chart, got ${left.side} and ${right.side}`);
  }
  return {
    smooth: true,
    evaluate(pointsMm, from, to, side, out, wantHessian, hints) {
      evaluateChart(side === 'left' ? left : right, pointsMm, from, to, out, wantHessian, hints);
    },
  };
}
