import type { Side } from '../spatial/index.ts';
import { type Place, probeTree } from './probe-tree.ts';
import type { SeatedTree } from './seat-tree.ts';

/** What one front tip does: the flared zone ahead of the bearing length. Clearance to the layers' top, + clear, - squeeze. */
export interface TipFigures {
  readonly side: Side;
  /** At the tip edge on three heights, mm; null off the data. */
  readonly innerGapMm: number | null;
  readonly bearingGapMm: number | null;
  readonly outerGapMm: number | null;
  /** Least over the zone, mm. */
  readonly leastGapMm: number | null;
  /** How far ahead of the blade edge the tip edge lies, mm; negative behind it. */
  readonly overBladeMm: number;
  readonly contactCm2: number;
  readonly meanPressureKPa: number;
  readonly highestPressureKPa: number;
  /** Vertical force carried by the zone, N. */
  readonly loadN: number;
}

/** Both front tips, left first. */
export function tipFigures(seated: SeatedTree): readonly [TipFigures, TipFigures] {
  return [tipOf(seated, 'left'), tipOf(seated, 'right')];
}

function tipOf(seated: SeatedTree, side: Side): TipFigures {
  const { loaded: tree, back, setup, seat, stack } = seated;
  const places: Place[] = (['inner', 'bearing', 'outer'] as const).map((across) => ({ bMm: EDGE_MM, across }));
  const { rows, pointsMm } = probeTree(tree, side, seat.pose, back, setup.path, places);
  const gap = (i: number): number | null => (rows.hasData[i] === 1 ? rows.distanceMm[i]! - stack.thicknessMm : null);
  const blade = side === 'left' ? back.landmarks.bladeEdgeLeft : back.landmarks.bladeEdgeRight;
  return {
    side,
    innerGapMm: gap(0),
    bearingGapMm: gap(1),
    outerGapMm: gap(2),
    overBladeMm: blade[0] - pointsMm[3]!,
    ...zoneSums(seated, side),
  };
}

/** Just inside the tip edge, where the rounded corners leave a line to read, mm. */
const EDGE_MM = 2;

function zoneSums({ tree, samples, seat, stack }: SeatedTree, side: Side) {
  const bar = samples.bars[side === 'left' ? 0 : 1];
  let least = Number.POSITIVE_INFINITY;
  let contact = 0;
  let press = 0;
  let highest = 0;
  let loadN = 0;
  for (let i = bar.from; i < bar.to && samples.bMm[i]! < tree[side].shape.flareZoneFrontMm; i++) {
    if (seat.mask[i] === 0) continue;
    least = Math.min(least, seat.rows.distanceMm[i]! - stack.thicknessMm);
    const p = seat.pressureMPa[i]!;
    if (!(p > 0)) continue;
    const area = samples.areaMm2[i]!;
    contact += area;
    press += p * area;
    highest = Math.max(highest, p);
    loadN += p * area * seat.rows.normal[3 * i + 2]!;
  }
  return {
    leastGapMm: Number.isFinite(least) ? least : null,
    contactCm2: contact / 100,
    meanPressureKPa: contact > 0 ? (1000 * press) / contact : 0,
    highestPressureKPa: 1000 * highest,
    loadN,
  };
}
