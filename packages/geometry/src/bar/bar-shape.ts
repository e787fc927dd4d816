import type { BarParameters, ResolvedStation, SharedParameters } from '../pattern/index.ts';

/** One bar's numbers at one station, resolved: mm and radians. */
export type BarStation = ResolvedStation;

/** The underside of one bar in plain numbers, from the front tip edge; what only concerns its strength is left out. */
export type BarShape = Omit<BarParameters, 'tipThicknessMm'>;

/** What joins the bars, where it matters to fit. Distances along the bar from the front tip edge, mm. */
export type TreeParts = Omit<SharedParameters, 'lengthMm'>;
