import type { Layer } from './layer.ts';
import { type LayerConditions, type LayerPart, layerPart } from './layer-part.ts';
import { knotLaw, linearLaw, type SqueezeLaw } from './squeeze-law.ts';

/** Layers in series as one law. Squeeze c = thickness - distance; nothing pulls. N, mm, MPa. */
export interface LayerStack {
  readonly layers: readonly Layer[];
  /** The layers as warm and as long under load as asked, in their order. */
  readonly parts: readonly LayerPart[];
  /** Unloaded thickness of the stack, mm. */
  readonly thicknessMm: number;
  /** Pressure per mm at the first touch, MPa/mm = N/mm^3; all the way where `law.linear` is not null. */
  readonly stiffness: number;
  readonly law: SqueezeLaw;
}

/** Knots of a stack's law between no pressure and the last. */
const KNOTS = 400;
/** Beyond this the law goes on straight: thirty times the highest limit in use. */
const LAST_MPA = 1;

/**
 * Layers one on another: under one pressure their squeezes add up (springs in series; VALIDATION A1, laterally free
 * layers). Linear layers alone: 1/k = sum 1/k_i. Others: the sum c(p) of their squeezes rises with p, so p(c) is a
 * function; it is kept as a C1 cubic through (c, p) with the exact slopes 1 / sum 1/k_i(p).
 * @throws RangeError without a layer or with a stiffness that is not positive, InputError for an unknown material
 */
export function stackLayers(layers: readonly Layer[], conditions: LayerConditions = {}): LayerStack {
  if (layers.length === 0) throw new RangeError('stackLayers: needs at least one layer');
  const parts = layers.map((layer) => layerPart(layer, conditions));
  let thicknessMm = 0;
  let compliance = 0;
  for (const part of parts) {
    thicknessMm += part.thicknessMm;
    compliance += 1 / part.slopeAt(0);
  }
  const stiffness = 1 / compliance;
  const law = parts.every((part) => part.linear !== null) ? linearLaw(stiffness) : seriesLaw(parts);
  return { layers, parts, thicknessMm, stiffness, law };
}

function seriesLaw(parts: readonly LayerPart[]): SqueezeLaw {
  return knotLaw(
    pressuresOf(parts).map((p) => {
      let squeezeMm = 0;
      let compliance = 0;
      for (const part of parts) {
        squeezeMm += p > 0 ? part.squeeze(p) : 0;
        compliance += 1 / part.slopeAt(p);
      }
      return { squeezeMm, pressureMPa: p, slope: 1 / compliance };
    }),
  );
}

/** Evenly spaced in their cube root, finest at the first touch, and every layer's own kinks between. */
function pressuresOf(parts: readonly LayerPart[]): number[] {
  const even = Array.from({ length: KNOTS + 1 }, (_, i) => LAST_MPA * (i / KNOTS) ** 3);
  const kinks = parts.flatMap((part) => part.kinks);
  const all = [...even, ...kinks].sort((a, b) => a - b);
  return all.filter((p, i) => i === 0 || p - all[i - 1]! > 1e-9 * p);
}

/** Squeeze of each layer under a pressure, mm, in the order of the stack. */
export function squeezeByLayer(stack: LayerStack, pressureKPa: number): number[] {
  return stack.parts.map((part) =>
    'stiffnessKPaPerMm' in part.layer
      ? pressureKPa / part.layer.stiffnessKPaPerMm
      : pressureKPa > 0
        ? part.squeeze(pressureKPa * 1e-3)
        : 0,
  );
}

/** How much further the stack is squeezed under one pressure than under another, mm. */
export function squeezeBetween({ law }: LayerStack, fromKPa: number, toKPa: number): number {
  if (law.linear !== null) return (toKPa - fromKPa) / (1000 * law.linear);
  return law.squeeze(toKPa / 1000) - law.squeeze(fromKPa / 1000);
}
