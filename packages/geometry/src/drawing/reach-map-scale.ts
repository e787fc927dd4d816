import { fromHue, type Oklab, oklabToSrgb, toHex } from './oklab.ts';
import { PAPER } from './pressure-map-paper.ts';

/** Steps at which the colour changes, in times the rule: fixed, never taken from the data. */
export const REACH_LEVELS = [1, 1.5, 2, 2.5, 3, 3.5, 4] as const;

/** Levels drawn as lines with figures; 1 is the border of the region without findings. */
export const REACH_LINES = [1.5, 2, 3, 4] as const;

/** One hue, ochre, light to dark: neither red nor green. */
const FIRST: Oklab = fromHue(0.93, 0.035, 80);
const LAST: Oklab = fromHue(0.55, 0.075, 62);
/** OKLab lightness below which ink can't be read. */
const DARK = 0.62;

const labOf = (step: number): Oklab => {
  const share = (step - 1) / (REACH_LEVELS.length - 1);
  return [0, 1, 2].map((i) => FIRST[i]! + share * (LAST[i]! - FIRST[i]!)) as unknown as Oklab;
};

/** Colour between level i-1 and level i; the paper's own below the first. */
export const reachFill = (step: number): string => (step === 0 ? PAPER : toHex(oklabToSrgb(labOf(step))));

/** The step that a ratio lies in. */
export const reachStepOf = (ratio: number): number => REACH_LEVELS.filter((level) => level < ratio).length;

export const isDarkReach = (ratio: number): boolean => {
  const step = reachStepOf(ratio);
  return step > 0 && labOf(step)[0] < DARK;
};
