import {
  clearanceColour,
  decodeSrgb,
  MAP_ANCHORS,
  NO_DATA,
  type Oklab,
  oklabToSrgb,
  type Rgb,
} from '@barwright/geometry';

const STEPS = 512;

/** A colour map as a table of linear colours between two ends, so that colouring a bar is a look-up. */
export interface ColourTable {
  readonly from: number;
  readonly to: number;
  /** 3 (STEPS + 1), linear 0..1, as vertex colours are taken. */
  readonly linear: Float32Array;
  readonly noData: readonly [number, number, number];
}

/** Plum towards the horse, parchment for no move, teal away from it: the clearance map's own arms. */
export const giveColour = (mm: number, endMm: number): Rgb => clearanceColour(mm, { squeezeMm: endMm, clearMm: endMm });

/** Parchment to a deep slate in even steps: no hue that means squeeze, daylight or pressure elsewhere. */
export function thicknessColour(mm: number, endMm: number): Rgb {
  return fromParchment(SLATE, mm / endMm);
}

/** The clearance map's own plum: squeeze is one colour everywhere. */
export const squeezeColour = (mm: number, endMm: number): Rgb => fromParchment(MAP_ANCHORS.plum, mm / endMm);

/** Slate for hollow, parchment for flat, umber for arched: neither arm means squeeze or daylight. */
export const curvatureColour = (perM: number, endPerM: number): Rgb =>
  fromParchment(perM < 0 ? SLATE : UMBER, Math.abs(perM) / endPerM);

/** Parchment on the scan's points to moss far from them. */
export const dataColour = (mm: number, endMm: number): Rgb => fromParchment(MOSS, mm / endMm);

function fromParchment(end: Oklab, along: number): Rgb {
  if (Number.isNaN(along)) return NO_DATA;
  const share = Math.min(1, Math.max(0, along));
  const from = MAP_ANCHORS.parchment;
  return oklabToSrgb([0, 1, 2].map((c) => from[c]! + (end[c]! - from[c]!) * share) as unknown as Oklab);
}

const SLATE: Oklab = [0.36, -0.012, -0.06];
const UMBER: Oklab = [0.4, 0.035, 0.075];
const MOSS: Oklab = [0.4, -0.06, 0.06];

/** One colour whatever the value: where a lesson asks before it shows. */
export const plainTable = ([red, green, blue]: Rgb): ColourTable => tableOf(0, 1, () => [red, green, blue]);

/** @param colour sRGB 0..1 of a value between `from` and `to` */
export function tableOf(from: number, to: number, colour: (value: number) => Rgb): ColourTable {
  const linear = new Float32Array(3 * (STEPS + 1));
  for (let i = 0; i <= STEPS; i++) {
    colour(from + ((to - from) * i) / STEPS).forEach((channel, c) => {
      linear[3 * i + c] = decodeSrgb(channel);
    });
  }
  const [r, g, b] = NO_DATA;
  return { from, to, linear, noData: [decodeSrgb(r), decodeSrgb(g), decodeSrgb(b)] };
}

/** Writes the linear colour of a value at `out[3 * at]`. NaN gives the grey of no data. */
export function writeColour(table: ColourTable, value: number, out: Float32Array, at: number): void {
  if (Number.isNaN(value)) {
    for (let c = 0; c < 3; c++) out[3 * at + c] = table.noData[c]!;
    return;
  }
  const share = Math.min(1, Math.max(0, (value - table.from) / (table.to - table.from)));
  const step = 3 * Math.round(share * STEPS);
  for (let c = 0; c < 3; c++) out[3 * at + c] = table.linear[step + c]!;
}
