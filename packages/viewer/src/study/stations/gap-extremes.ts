import type { BarProfile } from '@barwright/geometry';

export const LINES = ['inner', 'bearing', 'outer'] as const;
export type GapLine = (typeof LINES)[number];

interface Extreme {
  readonly xMm: number;
  readonly gapMm: number;
}

/** Where one line of a bar is clearest and where it is squeezed most; null without data. */
export function extremesOf(profile: BarProfile, line: GapLine): { most: Extreme; least: Extreme } | null {
  const gaps = { inner: profile.innerGapMm, bearing: profile.bearingGapMm, outer: profile.outerGapMm }[line];
  let most: Extreme | null = null;
  let least: Extreme | null = null;
  gaps.forEach((gapMm, i) => {
    if (Number.isNaN(gapMm)) return;
    const here = { xMm: profile.xMm[i]!, gapMm };
    if (most === null || gapMm > most.gapMm) most = here;
    if (least === null || gapMm < least.gapMm) least = here;
  });
  return most === null || least === null ? null : { most, least };
}
