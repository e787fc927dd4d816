export type { BarShape, BarStation, TreeParts } from './bar-shape.ts';
export { buildTree } from './build-tree.ts';
export {
  type BarRange,
  type BarSamples,
  CORE_FROM,
  CORE_TO,
  SAMPLE_DEFAULTS,
  type SampleOptions,
  sampleBars,
} from './sample-bars.ts';
export { createStationRows, type StationRow } from './station-row.ts';
export { bearingY, outwardY, type Tree, treeLengthMm, undersidePoint } from './tree.ts';
export { createHeightJet, createUnderside, type HeightJet, type Underside } from './underside.ts';
