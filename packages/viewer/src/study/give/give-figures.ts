import type { FlexFigures, GiveFigures } from '@barwright/geometry';

type Tip = FlexFigures['bars'][0]['tips'][0];

/** Load on all four tips, N. */
export const tipLoadN = ({ zones }: GiveFigures): number =>
  zones.filter(({ name }) => name.includes('tip')).reduce((sum, { loadN }) => sum + loadN, 0);

const largest = (values: readonly number[]): number =>
  values.reduce((most, value) => (Math.abs(value) > Math.abs(most) ? value : most), 0);

const tipsOf = ({ flex }: GiveFigures): Tip[] => flex?.bars.flatMap(({ tips }) => [...tips]) ?? [];

/** Largest move of a front tip by size, mm; null for rigid bars. */
export const frontTipMm = ({ flex }: GiveFigures): number | null =>
  flex === null ? null : largest(flex.bars.map(({ tips }) => tips[0].greatestMm));

/** The tip that is strained most; null for rigid bars. */
export const mostStrained = (figures: GiveFigures): Tip | null =>
  tipsOf(figures).reduce<Tip | null>(
    (most, tip) => (most === null || tip.rootStrainPercent > most.rootStrainPercent ? tip : most),
    null,
  );

/** Largest give between the feet by size, mm; null for rigid bars. */
export const middleMm = ({ flex }: GiveFigures): number | null =>
  flex === null ? null : largest(flex.bars.map((bar) => bar.middleMm));
