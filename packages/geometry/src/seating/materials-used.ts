import { barTemperatureC, kPaAtQuarter, type LayerPart, layerTemperatureC } from '../layers/index.ts';
import type { SolidUsed } from './flex-of.ts';
import type { Setup } from './setup-schema.ts';
import { stackOf } from './stack-of.ts';

/** A number of a material as it was used, with where it comes from: printed with every result. */
export interface MaterialUsed {
  /** 'bar', 'lower', 'tip', or the layer's name. */
  readonly part: string;
  readonly material: string;
  /** After warmth and time: modulus along for solids, pressure at 25 % squeeze for layers of a material or curve, or stiffness. */
  readonly value: number;
  readonly unit: 'MPa' | 'kPa at 25 %' | 'kPa/mm';
  /** Span of the untouched value at 23 degrees C, in its unit; null for the setup's own numbers. */
  readonly range: readonly [low: number, high: number] | null;
  readonly source: string;
  /** null where the part's numbers hold at any temperature and time. */
  readonly warmth: { readonly temperatureC: number; readonly factor: number; readonly source: string } | null;
  /** Factor on the modulus of solids; share of the thickness that is left for layers. */
  readonly time: { readonly hours: number; readonly factor: number; readonly source: string } | null;
  /** Solids only. */
  readonly strainLimit: { readonly percent: number | null; readonly source: string } | null;
  /** true where temperature or time lie beyond the material's tables. */
  readonly beyondTable: boolean;
}

/**
 * What a result rests on: the setup's layers from the horse outward, then the bars' materials where the bars are
 * flexible (`solids` as solidsOf gives them; null for rigid bars). Throws InputError for an unknown material.
 */
export function materialsUsed(setup: Setup, solids: Readonly<Record<string, SolidUsed>> | null): MaterialUsed[] {
  const temperatureC = layerTemperatureC(setup.warmth);
  const layers = stackOf(setup).parts.map((part) => layerUsed(part, temperatureC, setup.flex.hours));
  const bars = Object.entries(solids ?? {}).map(([part, used]) => solidUsed(part, used, setup));
  return [...layers, ...bars];
}

function layerUsed(part: LayerPart, temperatureC: number, hours: number): MaterialUsed {
  const { layer, material } = part;
  const own = { part: layer.name, range: null, warmth: null, time: null, strainLimit: null, beyondTable: false };
  if ('stiffnessKPaPerMm' in layer) {
    return { ...own, material: 'one stiffness', value: layer.stiffnessKPaPerMm, unit: 'kPa/mm', source: SETUP_SOURCE };
  }
  const value = kPaAtQuarter(part, part.thicknessMm);
  if (material === null) return { ...own, material: 'own curve', value, unit: 'kPa at 25 %', source: SETUP_SOURCE };
  return {
    ...own,
    material: material.name,
    value,
    unit: 'kPa at 25 %',
    range: material.rangeAt25KPa,
    source: material.source,
    warmth: { temperatureC, factor: part.temperatureFactor, source: material.temperatureSource },
    time: { hours, factor: 1 - part.lostShare, source: material.setSource },
    beyondTable: part.beyondTable,
  };
}

const SETUP_SOURCE = "the setup's own number; its defaults are assumed";

function solidUsed(part: string, { material, state }: SolidUsed, { warmth, flex }: Setup): MaterialUsed {
  return {
    part,
    material: material.name,
    value: state.alongMPa,
    unit: 'MPa',
    range: material.rangeMPa,
    source: material.source,
    warmth: {
      temperatureC: barTemperatureC(warmth),
      factor: state.temperatureFactor,
      source: material.temperatureSource,
    },
    time: { hours: flex.hours, factor: state.timeFactor, source: material.creepSource },
    strainLimit: { percent: material.strainLimitPercent, source: material.strainSource },
    beyondTable: state.beyondTable,
  };
}
