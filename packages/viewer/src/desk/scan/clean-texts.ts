import type { CleanStep } from '@barwright/geometry';

/** The steps of the clean-up in their order, and what each is called. */
export const CLEAN_STEP_SAYS: Readonly<Record<CleanStep, string>> = {
  weld: 'Join points that lie together',
  faces: 'Leave out triangles without area',
  winding: 'Turn triangles to face one way',
  islands: 'Take out loose pieces',
  spikes: 'Take out spikes',
  hair: 'Take out hair and fluff',
  pinholes: 'Count the holes',
};

export const CLEAN_STEP_NAMES = Object.keys(CLEAN_STEP_SAYS) as CleanStep[];
