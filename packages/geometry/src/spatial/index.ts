export { buildChartFromHeights, type HeightChartOptions, type RowHeight } from './build-chart-from-heights.ts';
export { type Chart, type ChartGrid, chartLattice, createChart } from './chart.ts';
export { createChartField } from './create-chart-field.ts';
export { createFootRows, type DistanceField, type FootRows, type Side } from './distance-field.ts';
export { evaluateChart } from './evaluate-chart.ts';
