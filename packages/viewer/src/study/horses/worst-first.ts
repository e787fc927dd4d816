import type { FitResult } from '@barwright/geometry';
import type { HorseRow } from './horses-service.ts';

/** What "worst" goes by: the user's choice, stated in words beside the table. */
export const WORST_BY = ['lengthwise', 'peak', 'area'] as const;
export type WorstBy = (typeof WORST_BY)[number];

/** Larger of both sides, without its sign: bridging and rocking alike; null where neither is known. */
export function lengthwiseMm({ mismatch }: FitResult): number | null {
  const known = [mismatch.lengthwiseLeftMm, mismatch.lengthwiseRightMm].filter((mm) => mm !== null);
  return known.length === 0 ? null : known.reduce((most, mm) => (Math.abs(mm) > Math.abs(most) ? mm : most));
}

/** The more, the further up; null where there is no such figure. */
function weightOf(result: FitResult, by: WorstBy): number | null {
  const { areaCm2, peakPressureKPa } = result.contact;
  if (by === 'area') return -areaCm2;
  if (by === 'peak') return Number.isFinite(peakPressureKPa) ? peakPressureKPa : null;
  const mm = lengthwiseMm(result);
  return mm === null ? null : Math.abs(mm);
}

/** Horses without a settled seating or without the figure first, since nothing can be said of them; then worst first. */
export function worstFirst(rows: readonly HorseRow[], by: WorstBy): HorseRow[] {
  const weight = ({ result }: HorseRow): number => {
    if (result === null || result.status !== 'settled') return Number.POSITIVE_INFINITY;
    return weightOf(result, by) ?? Number.POSITIVE_INFINITY;
  };
  return [...rows].sort((a, b) => (weight(b) === weight(a) ? 0 : weight(b) - weight(a)));
}
