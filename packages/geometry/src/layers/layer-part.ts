import { alongTable, alongTime } from './along-table.ts';
import type { Layer } from './layer.ts';
import { type MaterialChanges, softMaterial } from './material-named.ts';
import type { SoftMaterial } from './soft-materials.ts';
import { bracketed, knotLaw, type LawKnot } from './squeeze-law.ts';

/** What layers rest on besides themselves. */
export interface LayerConditions {
  /** Of the layers; soft materials are tabled at 23. */
  readonly temperatureC?: number;
  /** Time under load. */
  readonly hours?: number;
  readonly materials?: MaterialChanges;
}

/** One layer as warm and as long under load as asked. */
export interface LayerPart {
  readonly layer: Layer;
  /** null for a layer with a stiffness or a curve of its own: those hold at any temperature. */
  readonly material: SoftMaterial | null;
  /** Unloaded, after the set it has taken, mm. */
  readonly thicknessMm: number;
  readonly temperatureFactor: number;
  /** Share of the thickness that time under load has taken. */
  readonly lostShare: number;
  readonly beyondTable: boolean;
  /** MPa/mm where one stiffness holds all the way. */
  readonly linear: number | null;
  /** mm under a pressure above 0, MPa. */
  squeeze(pressureMPa: number): number;
  /** MPa/mm at a pressure, 0 included. */
  slopeAt(pressureMPa: number): number;
  /** Pressures at which the second derivative jumps, MPa. */
  readonly kinks: readonly number[];
}

const MPA_PER_KPA = 1e-3;

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
  const { law } = material;
  return {
    layer,
    material,
    thicknessMm,
    temperatureFactor: warm.value,
    lostShare: lost.value,
    beyondTable: warm.beyond || lost.beyond,
    ...(law.kind === 'gas' ? gasPart(law, thicknessMm, warm.value) : curvePart(law.curve, thicknessMm, warm.value)),
  };
}

const UNCHANGED = { temperatureFactor: 1, lostShare: 0, beyondTable: false };

type PartLaw = Pick<LayerPart, 'linear' | 'squeeze' | 'slopeAt' | 'kinks'>;

function linearPart(layer: Layer, stiffnessKPaPerMm: number): LayerPart {
  if (!(stiffnessKPaPerMm > 0)) throw new RangeError(`stackLayers: ${layer.name} needs a stiffness above 0`);
  const k = stiffnessKPaPerMm * MPA_PER_KPA;
  const law: PartLaw = { linear: k, squeeze: (p) => p / k, slopeAt: () => k, kinks: [] };
  return { layer, material: null, thicknessMm: layer.thicknessMm, ...UNCHANGED, ...law };
}

/**
 * Closed cells: p = walls (1 - exp(-e / ramp)) + gas e / (1 - e - solid), e the share of the thickness squeezed. Rises
 * without end towards e = 1 - solid, starts at 0 with a finite slope (Gibson & Ashby, Cellular Solids ch. 5, from memory;
 * the walls' share, a plateau there, is ramped here so that nothing presses before anything is squeezed).
 */
function gasPart(
  { wallsKPa, ramp, gasKPa, solid }: Extract<SoftMaterial['law'], { kind: 'gas' }>,
  thicknessMm: number,
  factor: number,
): PartLaw {
  const walls = wallsKPa * factor * MPA_PER_KPA;
  const gas = gasKPa * factor * MPA_PER_KPA;
  const room = 1 - solid;
  const slope = (e: number): number => (walls / ramp) * Math.exp(-e / ramp) + (gas * room) / (room - e) ** 2;
  const share = (p: number): number => {
    if (!(p > 0)) return 0;
    // The gas alone would be squeezed further than both together.
    const most = (p * room) / (gas + p);
    return bracketed((e) => [(gas * e) / (room - e) - walls * Math.expm1(-e / ramp) - p, slope(e)], 0, most);
  };
  return {
    linear: null,
    squeeze: (p) => thicknessMm * share(p),
    slopeAt: (p) => slope(share(p)) / thicknessMm,
    kinks: [],
  };
}

/** C1 rising cubic through the curve's points from (0, 0), straight beyond the last. */
function curvePart(
  curve: readonly (readonly [percent: number, kPa: number])[],
  thicknessMm: number,
  factor: number,
): PartLaw {
  const points = [[0, 0] as const, ...curve.filter(([percent]) => percent > 0)].map(([percent, kPa]) => ({
    squeezeMm: (percent / 100) * thicknessMm,
    pressureMPa: kPa * factor * MPA_PER_KPA,
  }));
  const law = knotLaw(withSlopes(points));
  return {
    linear: null,
    squeeze: (p) => law.squeeze(p),
    slopeAt: (p) => law.tangent(Math.max(law.squeeze(p), Number.MIN_VALUE)),
    kinks: points.slice(1).map((point) => point.pressureMPa),
  };
}

/** Weighted harmonic mean of the secants at inner points (Fritsch & Butland), and the end secants led on to the ends. */
function withSlopes(points: readonly Omit<LawKnot, 'slope'>[]): LawKnot[] {
  const n = points.length;
  const h = points.slice(1).map((point, i) => point.squeezeMm - points[i]!.squeezeMm);
  const s = points.slice(1).map((point, i) => (point.pressureMPa - points[i]!.pressureMPa) / h[i]!);
  const inner = points.map((_, i) => {
    if (i === 0 || i === n - 1) return 0;
    const before = 2 * h[i]! + h[i - 1]!;
    const after = h[i]! + 2 * h[i - 1]!;
    return (before + after) / (before / s[i - 1]! + after / s[i]!);
  });
  const end = (secant: number, next: number): number =>
    Math.min(3, Math.max(0.3, 1.5 - (0.5 * next) / secant)) * secant;
  return points.map((point, i) => {
    if (n === 2) return { ...point, slope: s[0]! };
    if (i === 0) return { ...point, slope: end(s[0]!, inner[1]!) };
    if (i === n - 1) return { ...point, slope: end(s[n - 2]!, inner[n - 2]!) };
    return { ...point, slope: inner[i]! };
  });
}
