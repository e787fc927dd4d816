/** Steps of a clean-up, in the order they are taken; any of them may be left out. */
export const CLEAN_STEPS = Object.freeze([
  'weld',
  'faces',
  'winding',
  'islands',
  'spikes',
  'hair',
  'pinholes',
] as const);

export type CleanStep = (typeof CLEAN_STEPS)[number];
