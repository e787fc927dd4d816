import { describe, expect, test } from 'vitest';
import {
  CLEARANCE_SCALE_DEFAULT,
  clearanceColour,
  clearanceOklab,
  MAP_ANCHORS,
  NO_DATA,
  pressureColour,
  pressureOklab,
} from './colour-maps.ts';
import {
  decodeSrgb,
  encodeSrgb,
  isInGamut,
  type Oklab,
  oklabDistance,
  oklabToSrgb,
  type Rgb,
  srgbToOklab,
} from './oklab.ts';

// Machado, Oliveira, Fernandes 2009, "A physiologically-based model for simulation of color vision deficiency",
// severity 1.0, on linear RGB (from memory). Each row sums to 1, so that greys stay grey: checked below.
const SIGHT: Readonly<Record<string, readonly (readonly [number, number, number])[]>> = {
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

function seen(colour: Rgb, kind: string): Oklab {
  const linear = colour.map(decodeSrgb);
  const through = SIGHT[kind]!.map((row) => row[0] * linear[0]! + row[1] * linear[1]! + row[2] * linear[2]!);
  const encoded = through.map((v) => encodeSrgb(Math.min(1, Math.max(0, v)))) as [number, number, number];
  return srgbToOklab(encoded);
}

const scale = { squeezeMm: 12, clearMm: 20 };

describe('OKLab', () => {
  test('published pairs: white, and sRGB red (Ottosson 2020, from memory)', () => {
    const white = srgbToOklab([1, 1, 1]);
    expect(white[0]).toBeCloseTo(1, 6);
    expect(Math.hypot(white[1], white[2])).toBeLessThan(1e-6);
    const red = srgbToOklab([1, 0, 0]);
    expect(red[0]).toBeCloseTo(0.62796, 4);
    expect(red[1]).toBeCloseTo(0.22486, 4);
    expect(red[2]).toBeCloseTo(0.12585, 4);
  });

  test('there and back over a grid of sRGB within 1e-5', () => {
    let worst = 0;
    for (let r = 0; r <= 1; r += 0.1)
      for (let g = 0; g <= 1; g += 0.1)
        for (let b = 0; b <= 1; b += 0.1) {
          const back = oklabToSrgb(srgbToOklab([r, g, b]));
          worst = Math.max(worst, Math.abs(back[0] - r), Math.abs(back[1] - g), Math.abs(back[2] - b));
        }
    expect(worst).toBeLessThan(1e-5);
  });
});

describe('clearance and pressure maps', () => {
  test('every colour lies within sRGB, so that no step is lost to clamping', () => {
    for (let i = -100; i <= 100; i++)
      expect(isInGamut(clearanceOklab(i / 5, { squeezeMm: 20, clearMm: 20 }))).toBe(true);
    for (let i = 0; i <= 100; i++) expect(isInGamut(pressureOklab(i, { maxKPa: 100 }))).toBe(true);
  });

  test('equal steps of the figure are equal steps of lightness, read back from the sRGB that is drawn', () => {
    const light = (c: Rgb): number => srgbToOklab(c)[0];
    const arm = (at: (i: number) => Rgb): number[] =>
      Array.from({ length: 10 }, (_, i) => light(at(i)) - light(at(i + 1)));
    for (const steps of [
      arm((i) => clearanceColour(-1.2 * i, scale)),
      arm((i) => clearanceColour(2 * i, scale)),
      arm((i) => pressureColour(4 * i, { maxKPa: 40 })),
    ]) {
      for (const step of steps) expect(step).toBeCloseTo(steps[0]!, 4);
      expect(steps[0]!).toBeGreaterThan(0.03);
    }
  });

  test('just touching is parchment; ends are fixed by the scale and beyond them nothing changes', () => {
    const touching = clearanceColour(0, scale);
    expect(touching).toEqual(oklabToSrgb(MAP_ANCHORS.parchment));
    expect(clearanceColour(-12, scale)).toEqual(clearanceColour(-500, scale));
    expect(clearanceColour(20, scale)).toEqual(clearanceColour(500, scale));
    expect(clearanceColour(19, scale)).not.toEqual(clearanceColour(20, scale));
    expect(pressureColour(40, { maxKPa: 40 })).toEqual(pressureColour(400, { maxKPa: 40 }));
    expect(pressureColour(0, { maxKPa: 40 })).toEqual(touching);
  });

  test('no data is its own grey on both maps', () => {
    expect(clearanceColour(Number.NaN, scale)).toEqual(NO_DATA);
    expect(pressureColour(Number.NaN, { maxKPa: 40 })).toEqual(NO_DATA);
    const grey = srgbToOklab(NO_DATA);
    for (let gap = -12; gap <= 20; gap += 0.5) {
      expect(oklabDistance(grey, clearanceOklab(gap, scale))).toBeGreaterThan(0.03);
    }
  });
});

describe.each(['protanopia', 'deuteranopia', 'tritanopia'])('seen with %s', (kind) => {
  test('the simulation leaves greys as they are', () => {
    expect(oklabDistance(seen([0.5, 0.5, 0.5], kind), srgbToOklab([0.5, 0.5, 0.5]))).toBeLessThan(1e-3);
  });

  test('both ends of the clearance map stay apart from the middle and from each other', () => {
    const s = CLEARANCE_SCALE_DEFAULT;
    const plum = seen(clearanceColour(-s.squeezeMm, s), kind);
    const middle = seen(clearanceColour(0, s), kind);
    const teal = seen(clearanceColour(s.clearMm, s), kind);
    expect(middle[0] - plum[0]).toBeGreaterThan(0.35);
    expect(middle[0] - teal[0]).toBeGreaterThan(0.35);
    expect(oklabDistance(plum, teal)).toBeGreaterThan(0.1);
  });

  test('half-way squeeze and half-way daylight stay apart too', () => {
    const s = CLEARANCE_SCALE_DEFAULT;
    const squeeze = seen(clearanceColour(-s.squeezeMm / 2, s), kind);
    const clear = seen(clearanceColour(s.clearMm / 2, s), kind);
    expect(oklabDistance(squeeze, clear)).toBeGreaterThan(0.05);
  });

  test('more pressure is always darker', () => {
    let last = Number.POSITIVE_INFINITY;
    for (let p = 0; p <= 40; p += 2) {
      const lightness = seen(pressureColour(p, { maxKPa: 40 }), kind)[0];
      expect(lightness).toBeLessThan(last);
      last = lightness;
    }
  });
});
