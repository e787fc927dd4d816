import { fromHue, type Oklab, oklabToSrgb, type Rgb, toHex } from './oklab.ts';

/** Ends of the clearance scale, both positive mm: full plum at `squeezeMm` of squeeze, full teal at `clearMm` of daylight. */
export interface ClearanceScale {
  readonly squeezeMm: number;
  readonly clearMm: number;
}

/** Parchment at 0, deep rust at `maxKPa`. */
export interface PressureScale {
  readonly maxKPa: number;
}

/** Ends stay where the user sets them, in every view and on paper; a map never scales itself to its data. */
export const CLEARANCE_SCALE_DEFAULT: ClearanceScale = Object.freeze({ squeezeMm: 15, clearMm: 15 });
export const PRESSURE_SCALE_DEFAULT: PressureScale = Object.freeze({ maxKPa: 40 });

/** Ends and middle of the maps. Each arm is a straight line in OKLab, so equal steps of the figure are equal steps of colour. */
export const MAP_ANCHORS = Object.freeze({
  parchment: fromHue(0.935, 0.028, 88),
  plum: fromHue(0.36, 0.125, 322),
  teal: fromHue(0.48, 0.076, 192),
  rust: fromHue(0.38, 0.118, 38),
});

/** Grey of places without data; drawn hatched where it covers an area. */
export const NO_DATA: Rgb = Object.freeze([0.62, 0.62, 0.61] as const);

const mix = (a: Oklab, b: Oklab, share: number): Oklab => [
  a[0] + share * (b[0] - a[0]),
  a[1] + share * (b[1] - a[1]),
  a[2] + share * (b[2] - a[2]),
];

const clamp01 = (v: number): number => Math.min(1, Math.max(0, v));

/** OKLab of a clearance: plum (squeeze, negative) - parchment (0, just touching) - teal (daylight, positive). */
export function clearanceOklab(gapMm: number, scale: ClearanceScale): Oklab {
  return gapMm < 0
    ? mix(MAP_ANCHORS.parchment, MAP_ANCHORS.plum, clamp01(-gapMm / scale.squeezeMm))
    : mix(MAP_ANCHORS.parchment, MAP_ANCHORS.teal, clamp01(gapMm / scale.clearMm));
}

/** sRGB 0..1 of a clearance in mm (+ clear, - squeeze); NO_DATA for NaN. */
export function clearanceColour(gapMm: number, scale: ClearanceScale): Rgb {
  return Number.isNaN(gapMm) ? NO_DATA : oklabToSrgb(clearanceOklab(gapMm, scale));
}

export function pressureOklab(pressureKPa: number, scale: PressureScale): Oklab {
  return mix(MAP_ANCHORS.parchment, MAP_ANCHORS.rust, clamp01(pressureKPa / scale.maxKPa));
}

/** sRGB 0..1 of a pressure in kPa; NO_DATA for NaN. */
export function pressureColour(pressureKPa: number, scale: PressureScale): Rgb {
  return Number.isNaN(pressureKPa) ? NO_DATA : oklabToSrgb(pressureOklab(pressureKPa, scale));
}

export const PLUM = toHex(oklabToSrgb(MAP_ANCHORS.plum));
export const TEAL = toHex(oklabToSrgb(MAP_ANCHORS.teal));
export const RUST = toHex(oklabToSrgb(MAP_ANCHORS.rust));
export const PARCHMENT = toHex(oklabToSrgb(MAP_ANCHORS.parchment));
