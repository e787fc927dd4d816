import { alongTable, alongTime } from './along-table.ts';
import type { Layer } from './layer.ts';
import { type MaterialChanges, softMaterial } from './material-named.ts';
import { curvePart, MPA_PER_KPA, type PartLaw, softPart } from './part-law.ts';
import type { SoftMaterial } from './soft-materials.ts';

/** What layers rest on besides themselves. */
export interface LayerConditions {
  /** Of the layers; soft materials are tabled at 23. */
  readonly temperatureC?: number;
  /** Time under load. */
  readonly hours?: number;
  readonly materials?: MaterialChanges;
}

/** One layer as warm and as long under load as asked. */
export interface LayerPart extends PartLaw {
  readonly layer: Layer;
  /** null for a layer with a stiffness or a curve of its own: those hold at any temperature. */
  readonly material: SoftMaterial | null;
  /** Unloaded, after the set it has taken, mm. */
  readonly thicknessMm: number;
  readonly temperatureFactor: number;
  /** Share of the thickness that time under load has taken. */
  readonly lostShare: number;
  readonly beyondTable: boolean;
}

/** Throws InputError for an unknown material, RangeError for a stiffness that is not positive. */
export function layerPart(layer: Layer, { temperatureC = 23, hours = 0, materials = {} }: LayerConditions): LayerPart {
  if ('stiffnessKPaPerMm' in layer) return linearPart(layer, layer.stiffnessKPaPerMm);
  if ('curve' in layer) {
    const still = { layer, material: null, thicknessMm: layer.thicknessMm, ...UNCHANGED };
    return { ...still, ...curvePart(layer.curve, layer.thicknessMm, 1) };
  }
  const material = softMaterial(layer.material, materials, `layers.${layer.name}.material`);
  const warm = alongTable(material.temperature, temperatureC);
  const lost = alongTime(material.set, hours, 0);
  const thicknessMm = layer.thicknessMm * (1 - lost.value);
  return {
    layer,
    material,
    thicknessMm,
    temperatureFactor: warm.value,
    lostShare: lost.value,
    beyondTable: warm.beyond || lost.beyond,
    ...softPart(material.law, thicknessMm, warm.value),
  };
}

const UNCHANGED = { temperatureFactor: 1, lostShare: 0, beyondTable: false };

function linearPart(layer: Layer, stiffnessKPaPerMm: number): LayerPart {
  if (!(stiffnessKPaPerMm > 0)) throw new RangeError(`stackLayers: ${layer.name} needs a stiffness above 0`);
  const k = stiffnessKPaPerMm * MPA_PER_KPA;
  const law: PartLaw = { linear: k, squeeze: (p) => p / k, slopeAt: () => k, kinks: [] };
  return { layer, material: null, thicknessMm: layer.thicknessMm, ...UNCHANGED, ...law };
}
