import type { MarkName } from './scan-choices.ts';

/** Where each landmark is in the small drawing, the horse's left side, head to the left. */
export const MARK_DOTS: Readonly<Record<MarkName, readonly [number, number]>> = {
  bladeEdgeLeft: [33, 21],
  bladeEdgeRight: [33, 21],
  withersTop: [24, 6],
  lowPoint: [52, 13],
  lastRib: [70, 11],
};

/** The landmarks in the order in which they are touched. */
export const MARK_NAMES = Object.keys(MARK_DOTS) as MarkName[];
