export type { BarShape, BarStation } from './bar-shape.ts';
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
export { bearingY, outwardY, type Tree, type TreeParts, treeLengthMm, undersidePoint } from './tree.ts';
export { createHeightJet, createUnderside, type HeightJet, type Underside } from './underside.ts';
