import { type BackSurface, moveBlades, type SeatedTree } from '@barwright/geometry';
import type { BackView, BarView, TreeView } from '../../contract.ts';
import { viewBack } from '../../worker/back-view.ts';
import { viewBar } from '../../worker/bar-view.ts';
import { viewTree } from '../../worker/tree-view.ts';

/** A seating as it is drawn: both bars and what joins them, settled. */
export interface DrawnTree {
  readonly bars: { readonly left: BarView; readonly right: BarView };
  readonly tree: TreeView;
}

/** Where a back's vertices are in another posture; the net is the standing one's. */
export interface MovedBack {
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  /** Height of the blade's patch under each vertex, mm: what is tinted on the clay. */
  readonly patchMm: Float32Array;
  /** The rear edge of each blade's patch as a line on the back, left and right, 3n each. */
  readonly bladeEdges: readonly [Float32Array, Float32Array];
  readonly landmarks: BackView['landmarks'];
}

export const drawTree = (seated: SeatedTree): DrawnTree => ({
  bars: { left: viewBar(seated, 'left'), right: viewBar(seated, 'right') },
  tree: viewTree(seated),
});

/** Far enough ahead that no patch is left on any back, mm. */
const AWAY_MM = -5000;
const PATCH_FROM_Y_MM = 80;
const PATCH_TO_Y_MM = 200;
const EDGE_POINTS = 25;

/** How high the blades' patches stand at every vertex of backs that share their net with this one. */
export function patchReader(standing: BackSurface): (back: BackSurface) => MovedBack {
  const bare = viewBack(moveBlades(standing, { leftMm: AWAY_MM, rightMm: AWAY_MM }), 0, []).positions;
  return (back) => {
    const { positions, normals, landmarks } = viewBack(back, 0, []);
    const patchMm = new Float32Array(positions.length / 3);
    for (let i = 0; i < patchMm.length; i++) patchMm[i] = positions[3 * i + 2]! - bare[3 * i + 2]!;
    return { positions, normals, patchMm, landmarks, bladeEdges: [edgeOf(back, -1), edgeOf(back, 1)] };
  };
}

/** Across the patch where it has fallen to nothing, and forward along both its sides for as far as there is a back. */
function edgeOf(back: BackSurface, sign: 1 | -1): Float32Array {
  const { bladeEdgeLeft, bladeEdgeRight } = back.landmarks;
  const edge = (sign < 0 ? bladeEdgeLeft : bladeEdgeRight)[0];
  const points: number[] = [];
  for (let i = 0; i < EDGE_POINTS; i++) {
    const y = sign * (PATCH_FROM_Y_MM + ((PATCH_TO_Y_MM - PATCH_FROM_Y_MM) * i) / (EDGE_POINTS - 1));
    const z = back.heightMm(edge, y);
    if (Number.isFinite(z)) points.push(edge, y, z + 0.8);
  }
  return Float32Array.from(points);
}
