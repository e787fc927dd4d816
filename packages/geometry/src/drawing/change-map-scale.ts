import { clearanceOklab } from './colour-maps.ts';
import { oklabToSrgb, toHex } from './oklab.ts';
import type { MapScale } from './pressure-map-scale.ts';

/** Ends of the change scale, both positive mm. */
export interface ChangeScale {
  readonly lowerMm: number;
  readonly fullerMm: number;
}

export const CHANGE_SCALE_DEFAULT: ChangeScale = Object.freeze({ lowerMm: 10, fullerMm: 10 });

const DARK = 0.62;

/**
 * Bands of 1 mm with lines every 2 mm; wider ends take wider steps. The colours of clearance, so that plum again is where
 * the back comes towards the tree and teal where it goes away.
 */
export function createChangeScale({ lowerMm, fullerMm }: ChangeScale): MapScale {
  const span = lowerMm + fullerMm;
  const band = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20].find((step) => span / step <= 30) ?? 50;
  const levels = (step: number): number[] => {
    const first = Math.floor(-lowerMm / step + 1e-9) + 1;
    const last = Math.ceil(fullerMm / step - 1e-9) - 1;
    return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => Number(((first + i) * step).toFixed(6)));
  };
  const lab = (value: number) => clearanceOklab(-value, { squeezeMm: fullerMm, clearMm: lowerMm });
  const colour = (value: number): string => toHex(oklabToSrgb(lab(value)));
  const fillLevels = levels(band);
  return {
    unit: 'mm',
    lowest: -lowerMm,
    highest: fullerMm,
    fillLevels,
    lineLevels: levels(2 * band),
    marks: [...new Set([-lowerMm, ...levels(5 * band), fullerMm])],
    fill: (step) => {
      if (step === 0) return colour(-lowerMm);
      if (step === fillLevels.length) return colour(fullerMm);
      return colour((fillLevels[step - 1]! + fillLevels[step]!) / 2);
    },
    isDark: (value) => lab(value)[0] < DARK,
  };
}
