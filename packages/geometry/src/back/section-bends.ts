import type { SectionHeight } from './section-height.ts';
import { createSurfaceJet, type SurfaceJet } from './surface-jet.ts';

/** Spacing of the net on which curvature is kept, mm. */
const NET_MM = 10;
/** A net may miss the sharpest place between its nodes. */
const CAUTION = 0.8;

/** Towards which side of the surface: + away from the horse. */
export type Away = 1 | -1;

/** How sharply a back bends, kept on a net over its data. */
export interface SectionBends {
  /**
   * True where nothing bends towards that side more tightly than a ball of the radius, within the radius of the place. A foot
   * that near is then the only one: a ball that touched at two places would have to dip into a tighter bend between them.
   */
  isGentle(xMm: number, yMm: number, radiusMm: number, away: Away): boolean;
}

export function createSectionBends(h: SectionHeight): SectionBends {
  const jet = createSurfaceJet();
  const columns = Math.floor((h.toXMm - h.fromXMm) / NET_MM) + 1;
  const half = Math.floor(h.edgeYMm / NET_MM);
  const rows = 2 * half + 1;
  const hollow = new Float64Array(columns * rows);
  const bulging = new Float64Array(columns * rows);
  for (let i = 0; i < columns; i++)
    for (let j = 0; j < rows; j++)
      keepBends(h.jet(h.fromXMm + i * NET_MM, (j - half) * NET_MM, jet), hollow, bulging, i * rows + j);
  return {
    isGentle(xMm, yMm, radiusMm, away) {
      const bends = away > 0 ? hollow : bulging;
      const most = CAUTION / radiusMm;
      const [i0, i1] = within((xMm - h.fromXMm) / NET_MM, radiusMm / NET_MM, columns);
      const [j0, j1] = within(yMm / NET_MM + half, radiusMm / NET_MM, rows);
      for (let i = i0; i <= i1; i++)
        for (let k = i * rows + j0; k <= i * rows + j1; k++) if (bends[k]! > most) return false;
      return true;
    },
  };
}

const within = (at: number, reach: number, count: number): readonly [number, number] => [
  Math.max(0, Math.floor(at - reach)),
  Math.min(count - 1, Math.ceil(at + reach)),
];

/** Principal curvatures of a height field from mean and Gaussian curvature, + hollow seen from above. 1/mm. */
function keepBends(
  { zx, zy, zxx, zxy, zyy }: SurfaceJet,
  hollow: Float64Array,
  bulging: Float64Array,
  at: number,
): void {
  const g = 1 + zx * zx + zy * zy;
  const mean = ((1 + zx * zx) * zyy - 2 * zx * zy * zxy + (1 + zy * zy) * zxx) / (2 * g * Math.sqrt(g));
  const gauss = (zxx * zyy - zxy * zxy) / (g * g);
  const root = Math.sqrt(Math.max(0, mean * mean - gauss));
  hollow[at] = mean + root;
  bulging[at] = root - mean;
}
