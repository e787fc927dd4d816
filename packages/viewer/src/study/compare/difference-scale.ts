import { clearanceOklab, MAP_ANCHORS, type MapScale, type Oklab, oklabToSrgb, toHex } from '@barwright/geometry';

/** What a difference is of. */
export type DifferenceOf = 'clearance' | 'pressure';

/** Ends the user can fix, either way: mm of clearance or kPa. */
export const DIFFERENCE_ENDS: Readonly<Record<DifferenceOf, readonly number[]>> = {
  clearance: [2, 5, 10, 20],
  pressure: [5, 10, 20, 40],
};

/** A slate that means no squeeze, daylight or pressure: here, less pressure than before. */
const SLATE: Oklab = [0.4, -0.02, -0.075];
/** Bands either way: an odd count, so that parchment is the band about nothing. */
const BANDS = 10;
const DARK = 0.62;

function lab(of: DifferenceOf, value: number, end: number): Oklab {
  if (of === 'clearance') return clearanceOklab(value, { squeezeMm: end, clearMm: end });
  const [to, share] = [value < 0 ? SLATE : MAP_ANCHORS.rust, Math.min(1, Math.abs(value) / end)];
  return [0, 1, 2].map(
    (c) => MAP_ANCHORS.parchment[c]! + share * (to[c]! - MAP_ANCHORS.parchment[c]!),
  ) as unknown as Oklab;
}

/**
 * Steps and colours of a difference, fixed by its end and never by the data: plum for less clearance and teal for more, or
 * slate for less pressure and rust for more. Bands of a tenth of the end, lines at fifths, none at nothing.
 */
export function differenceScale(of: DifferenceOf, end: number): MapScale {
  const step = end / BANDS;
  const fillLevels = Array.from({ length: 2 * BANDS }, (_, i) => (i - BANDS + 0.5) * step);
  const fifths = [-0.8, -0.6, -0.4, -0.2, 0.2, 0.4, 0.6, 0.8].map((share) => Number((share * end).toFixed(6)));
  const colour = (value: number): string => toHex(oklabToSrgb(lab(of, value, end)));
  return {
    unit: of === 'clearance' ? 'mm' : 'kPa',
    lowest: -end,
    highest: end,
    fillLevels,
    lineLevels: fifths,
    marks: [-end, -end / 2, 0, end / 2, end],
    fill: (band) => colour((band - BANDS) * step),
    isDark: (value) => lab(of, value, end)[0] < DARK,
  };
}
