import { HOW_SURE_DEFAULTS } from '@barwright/geometry';

/** How many horses are drawn, and from which seed. */
export interface SureWish {
  readonly draws: number;
  readonly seed: number;
}

export const SURE_WISH: SureWish = Object.freeze({ draws: HOW_SURE_DEFAULTS.draws, seed: HOW_SURE_DEFAULTS.seed });
