import type { BackSurface } from '../back/back-surface.ts';
import { bearingY, outwardY, type Tree, undersidePoint } from '../bar/index.ts';
import { transformPoint } from '../numeric/index.ts';
import { createFootRows, type FootRows, type Side } from '../spatial/index.ts';
import { barToHorse, type Pose } from './pose.ts';

/** Distances at chosen places of a placed tree's underside. Rows follow the places given. */
export interface Probe {
  readonly pointsMm: Float64Array;
  readonly rows: FootRows;
}

/** A place on the underside: across is 'inner', 'bearing', 'outer' (relief left out) or t itself. */
export interface Place {
  readonly bMm: number;
  readonly across: 'inner' | 'bearing' | 'outer' | number;
}

/** Asks the back at places of one bar, at a pose. Horse frame, mm. */
export function probeTree(
  tree: Tree,
  side: Side,
  pose: Pose,
  back: BackSurface,
  path: 'fast' | 'exact',
  places: readonly Place[],
): Probe {
  const matrix = barToHorse(pose);
  const pointsMm = new Float64Array(3 * places.length);
  places.forEach((place, i) => {
    const [x, y, z] = undersidePoint(tree, side, place.bMm, placeY(tree, side, place));
    pointsMm.set(transformPoint(matrix, x, y, z), 3 * i);
  });
  const rows = createFootRows(places.length);
  back[path].evaluate(pointsMm, 0, places.length, side, rows, false);
  return { pointsMm, rows };
}

function placeY(tree: Tree, side: Side, { bMm, across }: Place): number {
  if (across === 'bearing') return bearingY(tree, side, bMm);
  const inside = 1 - 2 * tree[side].shape.reliefFraction;
  const t = across === 'inner' ? -inside : across === 'outer' ? inside : across;
  return outwardY(tree, side, bMm, t);
}
