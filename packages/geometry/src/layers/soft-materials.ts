import type { FactorTable } from './along-table.ts';

/** Pressure of a soft material by the share of its thickness that is squeezed, at 23 degrees C. */
export type SoftLaw =
  | {
      readonly kind: 'gas';
      /** s = s0 (1 - exp(-e / ramp)) + p0 e / (1 - e - solid): walls, and gas shut in their cells. kPa */
      readonly wallsKPa: number;
      readonly ramp: number;
      readonly gasKPa: number;
      /** Share of the foam that is solid: density over that of the polymer. */
      readonly solid: number;
    }
  | { readonly kind: 'curve'; readonly curve: readonly (readonly [percent: number, kPa: number])[] };

export interface SoftMaterial {
  readonly name: string;
  readonly law: SoftLaw;
  /** Span of the pressure at 25 % squeeze, kPa. */
  readonly rangeAt25KPa: readonly [low: number, high: number];
  readonly source: string;
  /** [degrees C, factor on the pressure], 1 at 23. */
  readonly temperature: FactorTable;
  readonly temperatureSource: string;
  /** [hours under load, share of the thickness lost]. */
  readonly set: FactorTable;
  readonly setSource: string;
}

const NO_WARMTH = { temperature: [[23, 1]] as FactorTable, temperatureSource: 'none known: no change is assumed' };
const FOAM_WARMTH = {
  temperature: [
    [-20, 1.8],
    [0, 1.35],
    [10, 1.18],
    [23, 1],
    [35, 0.86],
    [45, 0.76],
    [60, 0.62],
  ] as FactorTable,
  temperatureSource: 'assumed, low confidence: walls soften, the gas in them does not',
};
const RUBBER_WARMTH = {
  temperature: [
    [-20, 1.5],
    [0, 1.15],
    [23, 1],
    [45, 0.93],
  ] as FactorTable,
  temperatureSource: 'assumed, low confidence',
};
const set = (perDecade: number): { set: FactorTable; setSource: string } => ({
  set: [
    [0, 0],
    [1, perDecade],
    [10, 2 * perDecade],
    [100, 3 * perDecade],
    [1000, 4 * perDecade],
  ],
  setSource: 'assumed',
});
const GAS_SOURCE = 'gas law of closed cells: Gibson & Ashby, Cellular Solids ch. 5, from memory';
const SPONGE = 'ASTM D1056, pressure at 25 % squeeze';

/** Every soft material a layer can be of. Values: VALIDATION B. */
export const SOFT_MATERIALS: readonly SoftMaterial[] = [
  {
    name: 'closed-cell foam',
    law: { kind: 'gas', wallsKPa: 5.4, ramp: 0.02, gasKPa: 101.3, solid: 33 / 920 },
    rangeAt25KPa: [33, 48],
    source: `cross-linked polyethylene, 33 kg/m3: a maker's sheet to ISO 3386-1 gives 40, 75, 115, 175 kPa at 25, 40, 50, 60 %, met within 2.7 kPa; ${GAS_SOURCE}; the walls' rise over the first 2 % is assumed`,
    ...FOAM_WARMTH,
    ...set(0.03),
  },
  {
    name: 'dense closed-cell foam',
    law: { kind: 'gas', wallsKPa: 20, ramp: 0.03, gasKPa: 101.3, solid: 52 / 930 },
    rangeAt25KPa: [45, 70],
    source: `polyethylene or EVA, 45 to 60 kg/m3: 45 to 70 kPa at 25 %, 120 to 180 at 50 %, from memory; ${GAS_SOURCE}; the walls' rise is assumed`,
    ...FOAM_WARMTH,
    ...set(0.02),
  },
  {
    name: 'soft sponge rubber',
    law: { kind: 'gas', wallsKPa: 3, ramp: 0.04, gasKPa: 52, solid: 0.15 },
    rangeAt25KPa: [14, 35],
    source: `${SPONGE}, grade 2x1: 14 to 35 kPa; shape of the curve assumed`,
    ...RUBBER_WARMTH,
    ...set(0.02),
  },
  {
    name: 'medium sponge rubber',
    law: { kind: 'gas', wallsKPa: 8, ramp: 0.04, gasKPa: 96, solid: 0.15 },
    rangeAt25KPa: [35, 62],
    source: `${SPONGE}, grade 2x2: 35 to 62 kPa; shape of the curve assumed`,
    ...RUBBER_WARMTH,
    ...set(0.02),
  },
  {
    name: 'firm sponge rubber',
    law: { kind: 'gas', wallsKPa: 30, ramp: 0.06, gasKPa: 101.3, solid: 0.2 },
    rangeAt25KPa: [62, 90],
    source: `${SPONGE}, grade 2x3: 62 to 90 kPa; shape of the curve assumed`,
    ...RUBBER_WARMTH,
    ...set(0.015),
  },
  {
    name: 'soft wool felt',
    law: {
      kind: 'curve',
      curve: [
        [5, 4],
        [10, 12],
        [25, 65],
        [40, 220],
        [55, 650],
      ],
    },
    rangeAt25KPa: [35, 100],
    source: 'pressed felt of 0.18 to 0.2 g/cm3: 5 to 20 kPa at 10 %, 35 to 100 at 25 %, from memory, low confidence',
    ...NO_WARMTH,
    ...set(0.03),
  },
  {
    name: 'firm wool felt',
    law: {
      kind: 'curve',
      curve: [
        [5, 35],
        [10, 95],
        [25, 400],
        [40, 1200],
      ],
    },
    rangeAt25KPa: [250, 600],
    source: 'pressed felt of 0.34 g/cm3: 50 to 150 kPa at 10 %, from memory, low confidence; the rest assumed',
    ...NO_WARMTH,
    ...set(0.01),
  },
  {
    name: 'wool fleece',
    law: {
      kind: 'curve',
      curve: [
        [20, 1.5],
        [40, 5],
        [60, 16],
        [75, 50],
        [85, 150],
      ],
    },
    rangeAt25KPa: [1, 5],
    source: 'skirt fleece, from memory, low confidence',
    ...NO_WARMTH,
    ...set(0.05),
  },
];
