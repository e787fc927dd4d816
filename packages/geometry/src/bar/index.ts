export type { BarMaterials, BarShape, BarStation, TreeParts } from './bar-shape.ts';
export { buildTree } from './build-tree.ts';
export { createLiftJet, type LiftJet, liftTree, liftUnderside, type UndersideLift } from './lifted-underside.ts';
export { type BarMeasures, type MeasureOptions, measureBar } from './measure-bar.ts';
export {
  MESH_MEASURE_DEFAULTS,
  type MeshMeasureOptions,
  measureBarMesh,
  surfacesOfBarMesh,
} from './measure-bar-mesh.ts';
export { MEASURE_DEFINITIONS, type MeasureDefinition, type MeasuredFigure } from './measure-definitions.ts';
export type { FlareMeasures } from './measure-flare.ts';
export { type LineName, type RockMeasures, radiusFromSag } from './measure-line.ts';
export type { FileAxis, MeshAxes, MeshUnit } from './measure-mesh-axes.ts';
export { type StationMeasures, type StationPlane, sagitta } from './measure-station.ts';
export type { BarSection, BarSurface, KnownSurface } from './measure-surface.ts';
export { measureTree, type PairMeasures, type TreeMeasures } from './measure-tree.ts';
export { surfaceOfUnderside } from './measure-underside.ts';
export { MESH_BARS_DEFAULTS, type MeshBarsOptions, meshOfBars } from './mesh-bars.ts';
export {
  type BarRange,
  type BarSamples,
  CORE_FROM,
  CORE_TO,
  SAMPLE_DEFAULTS,
  type SampleOptions,
  sampleBars,
} from './sample-bars.ts';
export { type ShimShape, shimUnderside } from './shim-underside.ts';
export { createStationRows, type StationRow } from './station-row.ts';
export { footOf, type Ply, pliesAt, thicknessAt } from './thickness.ts';
export { bearingY, outwardY, type Tree, treeLengthMm, undersidePoint } from './tree.ts';
export { createHeightJet, createUnderside, type HeightJet, type Underside } from './underside.ts';
