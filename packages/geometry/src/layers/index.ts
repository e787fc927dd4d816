export type { FactorTable } from './along-table.ts';
export {
  type CurveLayer,
  LAYER_LAWS,
  type Layer,
  type LinearLayer,
  layerGivingBy,
  layerWords,
  type MaterialLayer,
} from './layer.ts';
export type { LayerConditions, LayerPart } from './layer-part.ts';
export { type LayerStack, squeezeBetween, squeezeByLayer, stackLayers } from './layer-stack.ts';
export {
  checkMaterialChanges,
  type MaterialChange,
  type MaterialChanges,
  softMaterial,
  solidMaterial,
} from './material-named.ts';
export { kPaAtQuarter, softAt25KPa } from './part-law.ts';
export { SOFT_MATERIALS, type SoftLaw, type SoftMaterial } from './soft-materials.ts';
export { SOLID_MATERIALS, type SolidMaterial, type SolidState, solidAt } from './solid-materials.ts';
export { knotLaw, type LawKnot, linearLaw, type SqueezeLaw } from './squeeze-law.ts';
export { barTemperatureC, layerTemperatureC, type Warmth } from './warmth.ts';
