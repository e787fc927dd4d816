import type { Tree } from '../bar/index.ts';
import type { Side } from '../spatial/index.ts';
import { type Place, probeTree } from './probe-tree.ts';
import type { SeatedTree } from './seat-tree.ts';

/** Crosswise fit at one station of one bar: chord against the chord between its ends' feet. */
export interface StationMismatch {
  readonly name: string;
  readonly side: Side;
  readonly bMm: number;
  readonly xMm: number;
  readonly barSlopeDeg: number;
  readonly backSlopeDeg: number;
  /** bar - back: + bar too steep (narrow), - too flat (wide). */
  readonly mismatchDeg: number;
}

export interface Mismatch {
  /** Laid-on gap along the bearing line, middle minus the line through both bearing ends, mm; null off the data. */
  readonly lengthwiseLeftMm: number | null;
  readonly lengthwiseRightMm: number | null;
  readonly stations: readonly StationMismatch[];
}

const DEGREES = 180 / Math.PI;

/** Ends of the bearing length: where front and rear flare begin, mm from the front tip. */
export function bearingEnds(tree: Tree): { fromMm: number; toMm: number } {
  const s = tree.right.shape;
  return { fromMm: s.flareZoneFrontMm, toMm: s.lengthMm - s.flareZoneRearMm };
}

/** Reads the shapes of a tree laid on (DESIGN 4). */
export function measureMismatch(laidOn: SeatedTree): Mismatch {
  return {
    lengthwiseLeftMm: lengthwise(laidOn, 'left'),
    lengthwiseRightMm: lengthwise(laidOn, 'right'),
    stations: (['left', 'right'] as const).flatMap((side) => crosswise(laidOn, side)),
  };
}

function lengthwise({ loaded: tree, back, setup, seat }: SeatedTree, side: Side): number | null {
  const { fromMm, toMm } = bearingEnds(tree);
  const places: Place[] = [fromMm, (fromMm + toMm) / 2, toMm].map((bMm) => ({ bMm, across: 'bearing' }));
  const { rows } = probeTree(tree, side, seat.pose, back, setup.path, places);
  if (rows.hasData.includes(0)) return null;
  return rows.distanceMm[1]! - (rows.distanceMm[0]! + rows.distanceMm[2]!) / 2;
}

function crosswise({ loaded: tree, back, setup, seat }: SeatedTree, side: Side): StationMismatch[] {
  const out: StationMismatch[] = [];
  for (const station of tree[side].shape.stations) {
    const bMm = station.atMm;
    const places: Place[] = [
      { bMm, across: 'inner' },
      { bMm, across: 'outer' },
    ];
    const { pointsMm, rows } = probeTree(tree, side, seat.pose, back, setup.path, places);
    if (rows.hasData.includes(0)) continue;
    const barSlopeDeg = outwardFallDeg(pointsMm);
    const backSlopeDeg = outwardFallDeg(rows.footMm);
    out.push({
      name: station.name,
      side,
      bMm,
      xMm: (pointsMm[0]! + pointsMm[3]!) / 2,
      barSlopeDeg,
      backSlopeDeg,
      mismatchDeg: barSlopeDeg - backSlopeDeg,
    });
  }
  return out;
}

/** Slope below horizontal from the first point outward to the second. */
function outwardFallDeg(p: Float64Array): number {
  return DEGREES * Math.atan2(p[2]! - p[5]!, Math.abs(p[4]!) - Math.abs(p[1]!));
}
