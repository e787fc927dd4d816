import type { BarParameters, ResolvedStation, SharedParameters } from '../pattern/index.ts';

/** One bar's numbers at one station, resolved: mm and radians. */
export type BarStation = ResolvedStation;

/** One bar in plain numbers, from the front tip edge. */
export type BarShape = BarParameters;

/** Names of the materials: of the bar, of its lower layer next to the horse, of the tips. */
export interface BarMaterials {
  readonly bar: string;
  readonly lower: string;
  readonly tip: string;
}

/** What joins the bars, where it matters to fit. Distances along the bar from the front tip edge, mm. */
export type TreeParts = Omit<SharedParameters, 'lengthMm'>;
