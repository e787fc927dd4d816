import { alongTable, alongTime, type FactorTable } from './along-table.ts';

/** What bars, lower plies and tips are made of. Moduli at 23 degrees C, as a short pull gives them. */
export interface SolidMaterial {
  readonly name: string;
  /** Along the bar (along the grain of wood). */
  readonly alongMPa: number;
  readonly acrossMPa: number;
  readonly shearMPa: number;
  /** Squeeze across per stretch along. */
  readonly poisson: number;
  /** Published or remembered span of the modulus along. */
  readonly rangeMPa: readonly [low: number, high: number];
  readonly source: string;
  /** [degrees C, factor], 1 at 23. */
  readonly temperature: FactorTable;
  readonly temperatureSource: string;
  /** [hours under load, factor on the modulus], 1 at no time. */
  readonly creep: FactorTable;
  readonly creepSource: string;
  readonly strainLimitPercent: number | null;
  readonly strainSource: string;
}

/** A solid as warm and as long under load as asked. */
export interface SolidState {
  readonly alongMPa: number;
  readonly acrossMPa: number;
  readonly shearMPa: number;
  readonly poisson: number;
  readonly temperatureFactor: number;
  readonly timeFactor: number;
  /** true where temperature or time lay beyond the material's tables: the end's value is held there. */
  readonly beyondTable: boolean;
}

export function solidAt(material: SolidMaterial, at: { temperatureC: number; hours: number }): SolidState {
  const warm = alongTable(material.temperature, at.temperatureC);
  const crept = alongTime(material.creep, at.hours, 1);
  const factor = warm.value * crept.value;
  return {
    alongMPa: material.alongMPa * factor,
    acrossMPa: material.acrossMPa * factor,
    shearMPa: material.shearMPa * factor,
    poisson: material.poisson,
    temperatureFactor: warm.value,
    timeFactor: crept.value,
    beyondTable: warm.beyond || crept.beyond,
  };
}

const POLYETHYLENE_WARM: FactorTable = [
  [-29, 2.54],
  [-18, 2.18],
  [-7, 1.81],
  [4, 1.49],
  [10, 1.32],
  [16, 1.18],
  [23, 1],
  [27, 0.93],
  [32, 0.82],
  [38, 0.73],
  [43, 0.64],
  [49, 0.58],
  [54, 0.5],
  [60, 0.43],
];
const POLYETHYLENE_WARM_SOURCE = 'PPI Handbook of PE Pipe ch. 3 table B.1.2, from memory';

/** Low density polyethylene loses stiffness faster: 0.45 to 0.65 at 40 to 45 degrees C. */
const LOW_DENSITY_WARM: FactorTable = [
  [-20, 2.8],
  [0, 1.8],
  [10, 1.4],
  [23, 1],
  [32, 0.76],
  [40, 0.6],
  [45, 0.52],
  [60, 0.32],
];

/** A tensile test takes about a minute; its value holds up to there, and meets the first row straight in log time. */
const TEST_HOURS = 1 / 60;

/** Apparent modulus over the short-term one, MPa, at PPI's hours. */
const creepRows = (shortMPa: number, rowsMPa: readonly number[]): FactorTable => [
  [0, 1],
  [TEST_HOURS, 1],
  ...PPI_HOURS.map((hours, i) => [hours, rowsMPa[i]! / shortMPa] as const),
];
const PPI_HOURS = [0.5, 2, 12, 100, 8760, 438_000];
const PE2_MPA = [428, 393, 331, 290, 207, 152];
const PE4_MPA = [565, 510, 434, 379, 276, 200];
/** 100,000 and 130,000 psi. */
const [PE2_SHORT_MPA, PE4_SHORT_MPA] = [690, 896];
const PPI_ROWS = 'PPI Handbook of PE Pipe ch. 3 table B.1.1';

const STRAIN_LIMIT = {
  strainLimitPercent: 5,
  strainSource:
    'PPI Handbook of PE Pipe 2nd ed. ch. 6: 5 % proposed for lasting bending of buried pipe wall, held once; nothing published for repeated bending',
};

const isotropic = (alongMPa: number, poisson: number) => ({
  alongMPa,
  acrossMPa: alongMPa,
  shearMPa: alongMPa / (2 * (1 + poisson)),
  poisson,
});

const NO_WARMTH = {
  temperature: [[23, 1]] as FactorTable,
  temperatureSource: 'none: no change with warmth between frost and 45 degrees C is assumed',
};
const WOOD_CREEP: { creep: FactorTable; creepSource: string } = {
  creep: [
    [0, 1],
    [TEST_HOURS, 1],
    [168, 0.85],
    [4400, 0.75],
    [87_600, 0.62],
  ],
  creepSource: 'timber design practice for dry wood, 1 / (1 + 0.6) after ten years, from memory',
};
const GLASS_CREEP: { creep: FactorTable; creepSource: string } = {
  creep: [
    [0, 1],
    [TEST_HOURS, 1],
    [1000, 0.85],
    [100_000, 0.65],
  ],
  creepSource: 'assumed, from memory',
};
const NO_LIMIT = { strainLimitPercent: null, strainSource: 'none in use' };

/** Every solid material, as printed with a result. Values beside ranges: VALIDATION B. */
export const SOLID_MATERIALS: readonly SolidMaterial[] = [
  {
    name: 'wood',
    alongMPa: 11_000,
    acrossMPa: 700,
    shearMPa: 800,
    poisson: 0.35,
    rangeMPa: [8500, 13_900],
    source:
      'USDA Wood Handbook at 12 % moisture: beech 11860, paper birch 10960; ponderosa pine 8900 to yellow birch 13860 as the span; across and shear as shares of along, from memory',
    ...NO_WARMTH,
    ...WOOD_CREEP,
    ...NO_LIMIT,
  },
  {
    name: 'pine',
    alongMPa: 8900,
    acrossMPa: 500,
    shearMPa: 650,
    poisson: 0.35,
    rangeMPa: [8500, 13_700],
    source:
      'USDA Wood Handbook, from memory: ponderosa 8900, eastern white 8550, longleaf 13700; across and shear from memory',
    ...NO_WARMTH,
    ...WOOD_CREEP,
    ...NO_LIMIT,
  },
  {
    name: 'birch plywood',
    alongMPa: 10_000,
    acrossMPa: 7500,
    shearMPa: 650,
    poisson: 0.05,
    rangeMPa: [9500, 11_500],
    source: 'Handbook of Finnish Plywood, bending at 12 mm, from memory; shear from memory',
    ...NO_WARMTH,
    ...WOOD_CREEP,
    ...NO_LIMIT,
  },
  {
    name: 'pine plywood',
    alongMPa: 8500,
    acrossMPa: 3500,
    shearMPa: 550,
    poisson: 0.08,
    rangeMPa: [8000, 9000],
    source: 'from memory',
    ...NO_WARMTH,
    ...WOOD_CREEP,
    ...NO_LIMIT,
  },
  {
    name: 'glass mat polyester',
    ...isotropic(7000, 0.32),
    rangeMPa: [6000, 8000],
    source: 'chopped strand mat, 25 to 35 % glass: flexural 7 GPa (azom.com article 716)',
    ...NO_WARMTH,
    ...GLASS_CREEP,
    ...NO_LIMIT,
  },
  {
    name: 'glass cloth polyester',
    alongMPa: 14_000,
    acrossMPa: 14_000,
    shearMPa: 3500,
    poisson: 0.15,
    rangeMPa: [12_000, 17_000],
    source:
      'woven roving, 45 to 55 % glass: 12.4 to 17.2 GPa (substech.com); as stiff across as along, and shear, from memory',
    ...NO_WARMTH,
    ...GLASS_CREEP,
    ...NO_LIMIT,
  },
  {
    name: 'low density polyethylene',
    ...isotropic(200, 0.45),
    rangeMPa: [69, 300],
    source:
      'flexural 69 to 207 (Cardarelli, Materials Handbook, as tabled by matmake.com); typical tensile 200 from memory',
    temperature: LOW_DENSITY_WARM,
    temperatureSource: 'assumed, low confidence: dynamic tests from memory, 0.45 to 0.65 at 40 to 45 degrees C',
    creep: creepRows(PE2_SHORT_MPA, PE2_MPA),
    creepSource: `assumed to creep in the ratio of medium density: ${PPI_ROWS}, PE2xxx over 690 short-term`,
    ...STRAIN_LIMIT,
  },
  {
    name: 'medium density polyethylene',
    ...isotropic(380, 0.45),
    rangeMPa: [172, 690],
    source:
      'Brandrup, Polymer Handbook 4th ed.: 172 to 379; pipe grades reach 690 short-term (PPI, from memory); the value between is assumed',
    temperature: POLYETHYLENE_WARM,
    temperatureSource: POLYETHYLENE_WARM_SOURCE,
    creep: creepRows(PE2_SHORT_MPA, PE2_MPA),
    creepSource: `${PPI_ROWS}, PE2xxx, over 690 short-term (table B.2.1, from memory)`,
    ...STRAIN_LIMIT,
  },
  {
    name: 'high density polyethylene',
    ...isotropic(900, 0.44),
    rangeMPa: [600, 1400],
    source: 'NETZSCH polymer tables: 600 to 1400; the value within is typical, from memory',
    temperature: POLYETHYLENE_WARM,
    temperatureSource: POLYETHYLENE_WARM_SOURCE,
    creep: creepRows(PE4_SHORT_MPA, PE4_MPA),
    creepSource: `${PPI_ROWS}, PE4xxx, over 896 short-term (130,000 psi, table B.2.1 as the handbook's errata quote it)`,
    ...STRAIN_LIMIT,
  },
];
