import {
  CLEARANCE_SCALE_DEFAULT,
  type ClearanceScale,
  clearanceOklab,
  PRESSURE_SCALE_DEFAULT,
  type PressureScale,
  pressureOklab,
} from './colour-maps.ts';
import { type Oklab, oklabToSrgb, toHex } from './oklab.ts';
import type { MapQuantity } from './pressure-map-grid.ts';

export interface MapScales {
  readonly clearance: ClearanceScale;
  readonly pressure: PressureScale;
}

export const MAP_SCALES_DEFAULT: MapScales = Object.freeze({
  clearance: CLEARANCE_SCALE_DEFAULT,
  pressure: PRESSURE_SCALE_DEFAULT,
});

/** Steps and colours of one map: fixed by the user's ends, never by the data. */
export interface MapScale {
  readonly unit: 'mm' | 'kPa';
  readonly lowest: number;
  readonly highest: number;
  /** Levels at which the fill changes, rising; the first fill lies below the first level. */
  readonly fillLevels: readonly number[];
  /** Levels that are drawn as lines with figures. */
  readonly lineLevels: readonly number[];
  /** Levels with a mark on the scale. */
  readonly marks: readonly number[];
  /** Hex colour of the fill between level i-1 and level i. */
  fill(step: number): string;
  /** Whether the colour at a value is so dark that lines and figures on it are drawn in the paper's colour. */
  isDark(value: number): boolean;
}

/** OKLab lightness below which ink can't be read. */
const DARK = 0.62;

/** Bands of 1 mm with lines every 2 mm, or of 1 kPa with lines every 5 kPa; wider ends take wider steps. */
export function createMapScale(quantity: MapQuantity, scales: MapScales): MapScale {
  const lowest = quantity === 'clearance' ? -scales.clearance.squeezeMm : 0;
  const highest = quantity === 'clearance' ? scales.clearance.clearMm : scales.pressure.maxKPa;
  const widths = quantity === 'clearance' ? [1, 2, 5] : [1, 5, 5];
  const times = niceFactor((highest - lowest) / (quantity === 'clearance' ? 30 : 40));
  const [band, line, mark] = widths.map((width) => width * times) as [number, number, number];
  const fillLevels = multiples(lowest, highest, band);
  const lab = (value: number): Oklab =>
    quantity === 'clearance' ? clearanceOklab(value, scales.clearance) : pressureOklab(value, scales.pressure);
  const colour = (value: number): string => toHex(oklabToSrgb(lab(value)));
  return {
    unit: quantity === 'clearance' ? 'mm' : 'kPa',
    lowest,
    highest,
    fillLevels,
    lineLevels: multiples(lowest, highest, line),
    marks: [...new Set([lowest, ...multiples(lowest, highest, mark), highest])],
    fill: (step) => {
      if (step === 0) return colour(lowest);
      if (step === fillLevels.length) return colour(highest);
      return colour((fillLevels[step - 1]! + fillLevels[step]!) / 2);
    },
    isDark: (value) => lab(value)[0] < DARK,
  };
}

/** 1, 2, 5, 10 ... not below the ratio, 0.1 at least. */
function niceFactor(ratio: number): number {
  for (const factor of [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50]) if (factor >= ratio - 1e-9) return factor;
  return 100;
}

/** Multiples of a step strictly between two ends. */
function multiples(from: number, to: number, step: number): number[] {
  const first = Math.floor(from / step + 1e-9) + 1;
  const last = Math.ceil(to / step - 1e-9) - 1;
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => (first + i) * step);
}
