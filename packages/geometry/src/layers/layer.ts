/** One layer between the bar and the firm back beneath, with one stiffness all the way. */
export interface LinearLayer {
  readonly name: string;
  /** Uncompressed thickness, mm; 0 for tissue, which gives without taking up room. */
  readonly thicknessMm: number;
  /** Pressure per mm of squeeze, kPa/mm. */
  readonly stiffnessKPaPerMm: number;
}

/** A layer of a soft material of the table (soft-materials.ts). */
export interface MaterialLayer {
  readonly name: string;
  readonly thicknessMm: number;
  /** Name of the soft material. */
  readonly material: string;
}

/** A layer with a curve of its own: percent of its thickness squeezed, kPa; both rise. 0 % at 0 kPa goes without saying. */
export interface CurveLayer {
  readonly name: string;
  readonly thicknessMm: number;
  readonly curve: readonly (readonly [percent: number, kPa: number])[];
}

export type Layer = LinearLayer | MaterialLayer | CurveLayer;

/** What a layer gives by: one of these stands in a layer, and no other. */
export const LAYER_LAWS = ['stiffnessKPaPerMm', 'material', 'curve'] as const;

/** A layer of the same name and thickness that gives by something else; `value` as the setup's schema has it, unchecked. */
export function layerGivingBy(
  { name, thicknessMm }: Pick<Layer, 'name' | 'thicknessMm'>,
  law: (typeof LAYER_LAWS)[number],
  value: unknown,
): Record<string, unknown> {
  return { name, thicknessMm, [law]: value };
}

/** "20 mm, 2.5 kPa/mm", "20 mm, closed-cell foam", "20 mm, own curve to 175 kPa": a layer without its name. */
export function layerWords(layer: Layer): string {
  const thick = `${layer.thicknessMm} mm`;
  if ('stiffnessKPaPerMm' in layer) return `${thick}, ${layer.stiffnessKPaPerMm} kPa/mm`;
  if ('material' in layer) return `${thick}, ${layer.material}`;
  return `${thick}, own curve to ${layer.curve.at(-1)![1]} kPa`;
}
