import type { Layer } from './layer.ts';

/** Layers in series as one law. Squeeze c = thickness - distance; nothing pulls. N, mm, MPa. */
export interface LayerStack {
  readonly layers: readonly Layer[];
  /** Uncompressed thickness of the stack, mm. */
  readonly thicknessMm: number;
  /** Pressure per mm of squeeze, MPa/mm = N/mm^3. */
  readonly stiffness: number;
}

const MPA_PER_KPA = 1e-3;

/**
 * Linear layers one on another: 1/k = sum 1/k_i (springs in series; VALIDATION A1, laterally free layers).
 * @throws RangeError without a layer or with a stiffness that is not positive
 */
export function stackLayers(layers: readonly Layer[]): LayerStack {
  if (layers.length === 0) throw new RangeError('stackLayers: needs at least one layer');
  let compliance = 0;
  let thicknessMm = 0;
  for (const layer of layers) {
    if (!('stiffnessKPaPerMm' in layer)) throw new RangeError(`stackLayers: ${layer.name} has no single stiffness`);
    if (!(layer.stiffnessKPaPerMm > 0)) throw new RangeError(`stackLayers: ${layer.name} needs a stiffness above 0`);
    compliance += 1 / (layer.stiffnessKPaPerMm * MPA_PER_KPA);
    thicknessMm += layer.thicknessMm;
  }
  return { layers, thicknessMm, stiffness: 1 / compliance };
}

/** Squeeze of each layer under a pressure, mm, in the order of the stack. */
export function squeezeByLayer(stack: LayerStack, pressureKPa: number): number[] {
  return stack.layers.map((layer) =>
    'stiffnessKPaPerMm' in layer ? pressureKPa / layer.stiffnessKPaPerMm : Number.NaN,
  );
}
