import type { BackSurface, Lift } from '../back/index.ts';
import type { Tree } from '../bar/index.ts';
import type { FindingCode } from '../findings/index.ts';
import type { Pose, SeatStatus, Setup } from '../seating/index.ts';
import { furthest, LEAST_RATIO, type RuleRatios, ruleRatios } from './reach-ratio.ts';
import { readAgainst } from './tree-against-read.ts';

/** One tree on one back in one place. */
export interface ReachNode {
  readonly status: SeatStatus;
  /** The finding furthest over its rule, or nearest to it; null where none comes within half of its rule. */
  readonly code: FindingCode | null;
  /** Its size over its rule: above 1 it is a finding. LEAST_RATIO stands for that much or less; null where unknown. */
  readonly ratio: number | null;
  readonly ratios: RuleRatios;
}

/** Settles a tree and lays it on; `start` is a nearby pose, and the pose found comes back with the node. */
export function readNode(
  tree: Tree,
  lift: Lift | null,
  back: BackSurface,
  setup: Setup,
  start: Pose | null,
): { readonly node: ReachNode; readonly pose: Pose | null } {
  const reading = readAgainst(tree, lift, back, setup, start);
  const { status, seat } = reading.seated;
  if (status === 'no contact' || status === 'iteration limit')
    return { node: { status, code: null, ratio: null, ratios: {} }, pose: null };
  const ratios = ruleRatios(reading);
  const most = furthest(ratios);
  const node = { status, code: most?.code ?? null, ratio: most?.ratio ?? LEAST_RATIO, ratios };
  return { node, pose: seat.pose };
}
