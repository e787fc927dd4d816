import type { MarkName } from './scan-choices.ts';

export interface MarkText {
  readonly name: string;
  /** Where it is on a horse. */
  readonly where: string;
  /** In the small drawing, the horse's left side, head to the left. */
  readonly dot: readonly [number, number];
}

export const MARK_TEXTS: Readonly<Record<MarkName, MarkText>> = {
  bladeEdgeLeft: {
    name: 'Blade edge, left',
    where: 'Rear edge of the left shoulder blade, as high as the bar will lie.',
    dot: [33, 21],
  },
  bladeEdgeRight: {
    name: 'Blade edge, right',
    where: 'The same on the right side.',
    dot: [33, 21],
  },
  withersTop: { name: 'Withers top', where: 'The highest point of the withers, on the midline.', dot: [24, 6] },
  lowPoint: { name: 'Low point', where: 'The lowest point of the topline, where one would sit.', dot: [52, 13] },
  lastRib: {
    name: 'Last rib',
    where: 'On the midline, level with the last rib: follow it up from the flank.',
    dot: [70, 11],
  },
};

export const MARK_NAMES = Object.keys(MARK_TEXTS) as MarkName[];

export const TRUST_SAYS = { clear: 'clear', likely: 'likely', unsure: 'not sure' } as const;
