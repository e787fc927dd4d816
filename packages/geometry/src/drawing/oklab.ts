/** OKLab: L 0..1, a green-red, b blue-yellow. */
export type Oklab = readonly [number, number, number];
/** sRGB, gamma-encoded, 0..1. */
export type Rgb = readonly [number, number, number];

type Matrix = readonly [Oklab, Oklab, Oklab];

const times = (m: Matrix, [x, y, z]: Oklab): [number, number, number] => [
  m[0][0] * x + m[0][1] * y + m[0][2] * z,
  m[1][0] * x + m[1][1] * y + m[1][2] * z,
  m[2][0] * x + m[2][1] * y + m[2][2] * z,
];

// Source: B. Ottosson, "A perceptual color space for image processing", 2020 (from memory). Published to 10 digits.
const LINEAR_TO_LMS: Matrix = [
  [0.4122214708, 0.5363325363, 0.0514459929],
  [0.2119034982, 0.6806995451, 0.1073969566],
  [0.0883024619, 0.2817188376, 0.6299787005],
];
const LMS_TO_LAB: Matrix = [
  [0.2104542553, 0.793617785, -0.0040720468],
  [1.9779984951, -2.428592205, 0.4505937099],
  [0.0259040371, 0.7827717662, -0.808675766],
];
const LAB_TO_LMS: Matrix = [
  [1, 0.3963377774, 0.2158037573],
  [1, -0.1055613458, -0.0638541728],
  [1, -0.0894841775, -1.291485548],
];
const LMS_TO_LINEAR: Matrix = [
  [4.0767416621, -3.3077115913, 0.2309699292],
  [-1.2684380046, 2.6097574011, -0.3413193965],
  [-0.0041960863, -0.7034186147, 1.707614701],
];

/** Gamma of sRGB (IEC 61966-2-1), encoded 0..1 to linear 0..1. */
export const decodeSrgb = (v: number): number => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);

/** The inverse of decodeSrgb. */
export const encodeSrgb = (v: number): number => (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055);

export function srgbToOklab([r, g, b]: Rgb): [number, number, number] {
  const lms = times(LINEAR_TO_LMS, [decodeSrgb(r), decodeSrgb(g), decodeSrgb(b)]);
  return times(LMS_TO_LAB, [Math.cbrt(lms[0]), Math.cbrt(lms[1]), Math.cbrt(lms[2])]);
}

/** Outside the sRGB gamut channels are clamped; `isInGamut` tells. */
export function oklabToSrgb(lab: Oklab): [number, number, number] {
  const [r, g, b] = oklabToLinear(lab);
  const channel = (v: number): number => encodeSrgb(Math.min(1, Math.max(0, v)));
  return [channel(r), channel(g), channel(b)];
}

export function isInGamut(lab: Oklab): boolean {
  return oklabToLinear(lab).every((v) => v >= -1e-6 && v <= 1 + 1e-6);
}

function oklabToLinear(lab: Oklab): [number, number, number] {
  const [l, m, s] = times(LAB_TO_LMS, lab);
  return times(LMS_TO_LINEAR, [l ** 3, m ** 3, s ** 3]);
}

/** Straight distance in OKLab: about 0.02 is just noticeable side by side. */
export const oklabDistance = (a: Oklab, b: Oklab): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

export function fromHue(lightness: number, chroma: number, hueDeg: number): Oklab {
  const hue = (hueDeg * Math.PI) / 180;
  return [lightness, chroma * Math.cos(hue), chroma * Math.sin(hue)];
}

export function toHex([r, g, b]: Rgb): string {
  const hex = (v: number): string =>
    Math.round(v * 255)
      .toString(16)
      .padStart(2, '0');
  return `#${hex(r)}${hex(g)}${hex(b)}`;
}
