import { bearingEnds } from './mismatch.ts';
import { probeTree } from './probe-tree.ts';
import type { SeatedTree } from './seat-tree.ts';

/** Clearance to the layers' top over the bearing surface with data, mm: + clear, - squeeze. */
export interface GapFigures {
  readonly minMm: number | null;
  readonly maxMm: number | null;
  /** Weighted by area. */
  readonly meanMm: number | null;
  /** Mean of both bearing lines at the middle of the bearing length. */
  readonly middleMm: number | null;
}

export function gapFigures(seated: SeatedTree): GapFigures {
  const { samples, seat, stack } = seated;
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  let sum = 0;
  let area = 0;
  for (let i = 0; i < samples.count; i++) {
    if (seat.mask[i] === 0) continue;
    const gap = seat.rows.distanceMm[i]! - stack.thicknessMm;
    min = Math.min(min, gap);
    max = Math.max(max, gap);
    sum += gap * samples.areaMm2[i]!;
    area += samples.areaMm2[i]!;
  }
  if (area === 0) return { minMm: null, maxMm: null, meanMm: null, middleMm: null };
  return { minMm: min, maxMm: max, meanMm: sum / area, middleMm: middleGap(seated) };
}

function middleGap({ loaded: tree, back, setup, seat, stack }: SeatedTree): number | null {
  const { fromMm, toMm } = bearingEnds(tree);
  let sum = 0;
  for (const side of ['left', 'right'] as const) {
    const place = { bMm: (fromMm + toMm) / 2, across: 'bearing' } as const;
    const { rows } = probeTree(tree, side, seat.pose, back, setup.path, [place]);
    if (rows.hasData[0] === 0) return null;
    sum += rows.distanceMm[0]! - stack.thicknessMm;
  }
  return sum / 2;
}
