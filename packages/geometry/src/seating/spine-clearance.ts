import type { Vec3 } from '../back/back-surface.ts';
import { outwardY, type Tree, thicknessAt, treeLengthMm, undersidePoint } from '../bar/index.ts';
import { transformPoint } from '../numeric/index.ts';
import { barToHorse } from './pose.ts';
import type { SeatedTree } from './seat-tree.ts';

/** Room over and beside the spine, loaded. Vertical, mm; null where the back has no data on the midline. */
export interface SpineClearance {
  /** Tunnel top above the topline, least from the front tip to the back of the fork. */
  readonly atForkMm: number | null;
  /** Underside of the ground seat above the topline, least along its span. */
  readonly alongMm: number | null;
  /** Where alongMm is, mm behind the blade edge. */
  readonly alongAtXMm: number | null;
  /** Narrowest inner-edge to inner-edge distance, mm. */
  readonly channelMm: number;
}

/** From gullet height, inner edges and pose (DESIGN 4). */
export function spineClearance(seated: SeatedTree): SpineClearance {
  const { loaded: tree } = seated;
  const parts = tree.parts;
  const fork = least(seated, 0, parts.forkBackMm, () => parts.gulletHeightMm);
  const along = least(seated, parts.groundSeatFromMm, parts.groundSeatToMm, (b) => groundSeatAbove(tree, b));
  return {
    atForkMm: fork?.mm ?? null,
    alongMm: along?.mm ?? null,
    alongAtXMm: along?.xMm ?? null,
    channelMm: narrowestChannel(tree),
  };
}

/** Underside of the ground seat above the bars' lower inner edges: the bar's upright thickness and the seat's own rise. */
function groundSeatAbove(tree: Tree, bMm: number): number {
  const { groundSeatFromMm, seatLowMm, groundSeatRiseFrontMm, groundSeatRiseMm } = tree.parts;
  const back = Math.min(1, Math.max(0, (bMm - groundSeatFromMm) / Math.max(1, seatLowMm - groundSeatFromMm)));
  return (
    thicknessAt(tree.right, bMm) / Math.cos(tree.right.row(bMm).slopeRad) +
    groundSeatRiseFrontMm +
    back * (groundSeatRiseMm - groundSeatRiseFrontMm)
  );
}

function least(
  { loaded: tree, back, seat }: SeatedTree,
  fromMm: number,
  toMm: number,
  above: (bMm: number) => number,
): { mm: number; xMm: number } | null {
  const matrix = barToHorse(seat.pose);
  let best: { mm: number; xMm: number } | null = null;
  for (let i = 0; i <= 24; i++) {
    const b = fromMm + ((toMm - fromMm) * i) / 24;
    const [left, right] = (['left', 'right'] as const).map(
      (side): Vec3 => transformPoint(matrix, ...undersidePoint(tree, side, b, outwardY(tree, side, b, -1))),
    ) as [Vec3, Vec3];
    const share = left[1]! === right[1]! ? 0.5 : -left[1]! / (right[1]! - left[1]!);
    const x = left[0]! + share * (right[0]! - left[0]!);
    const mm = left[2]! + share * (right[2]! - left[2]!) + above(b) - back.heightMm(x, 0);
    if (!Number.isNaN(mm) && (best === null || mm < best.mm)) best = { mm, xMm: x };
  }
  return best;
}

function narrowestChannel(tree: Tree): number {
  let narrowest = Number.POSITIVE_INFINITY;
  const length = treeLengthMm(tree);
  for (let i = 0; i <= 40; i++) {
    const b = (length * i) / 40;
    narrowest = Math.min(narrowest, outwardY(tree, 'left', b, -1) + outwardY(tree, 'right', b, -1));
  }
  return narrowest;
}
