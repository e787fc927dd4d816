import type { BarProfile } from '@barwright/geometry';

export interface SideScale {
  readonly pxPerMm: number;
  toY(zMm: number): number;
  /** Middle of the drawing, px. */
  readonly middleY: number;
}

/** Heights of bars and back in the side view, higher than long by at most `exaggeration`; null without any. */
export function sideScale(
  profiles: { readonly left: BarProfile; readonly right: BarProfile },
  lengthPxPerMm: number,
  { topPx, heightPx, exaggeration }: { topPx: number; heightPx: number; exaggeration: number },
): SideScale | null {
  let [top, bottom] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (const profile of [profiles.left, profiles.right])
    for (const line of [profile.barZMm, profile.backZMm])
      for (const z of line) {
        if (Number.isNaN(z)) continue;
        top = Math.max(top, z);
        bottom = Math.min(bottom, z);
      }
  if (top < bottom) return null;
  const room = heightPx - 20;
  const pxPerMm = Math.min(exaggeration * lengthPxPerMm, room / Math.max(1, top - bottom));
  const middleY = topPx + 12 + room / 2;
  return { pxPerMm, middleY, toY: (z) => middleY - (z - (top + bottom) / 2) * pxPerMm };
}
