import type { Setup } from '@barwright/geometry';

/** What a stride can be set beside: the same one with the tree crept forward, with the other bars, or at the other warmth. */
export const BESIDES = ['crept', 'bars', 'warmth'] as const;
export type Beside = (typeof BESIDES)[number];

/** How far forward the saddle is taken to creep, mm. */
export const CREEP_MM = 25;

type Bars = Setup['flex']['bars'];

/** Flexible for rigid, and the other way round. */
export const otherThan = (bars: Bars): Bars => (bars === 'rigid' ? 'flexible' : 'rigid');

/** Minutes on the horse that stand for warm: both default time constants are well past (our choice). */
const WARM_MINUTES = 90;
/** Up to here a setup counts as cold. */
const COLD_UP_TO_MINUTES = 20;

/** The other end of warming up: 90 minutes on the horse for a cold setup, just laid on for a warm one. */
export const otherMinutes = ({ minutes }: Setup['warmth']): number =>
  minutes <= COLD_UP_TO_MINUTES ? WARM_MINUTES : 0;

/** The setup that is set beside the bench's. */
export function setupBeside(setup: Setup, beside: Beside): Setup {
  const { flex, warmth, setPositionMm } = setup;
  if (beside === 'crept') return { ...setup, setPositionMm: setPositionMm - CREEP_MM };
  if (beside === 'bars') return { ...setup, flex: { ...flex, bars: otherThan(flex.bars) } };
  return { ...setup, warmth: { ...warmth, minutes: otherMinutes(warmth) } };
}
