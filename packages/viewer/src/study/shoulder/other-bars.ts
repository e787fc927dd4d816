import type { Setup } from '@barwright/geometry';

type Bars = Setup['flex']['bars'];

/** Flexible for rigid, and the other way round. */
export const otherThan = (bars: Bars): Bars => (bars === 'rigid' ? 'flexible' : 'rigid');
