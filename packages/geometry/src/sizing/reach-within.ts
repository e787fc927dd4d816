import type { FindingCode } from '../findings/index.ts';
import type { BackChangeStep } from './reach-lift.ts';
import type { ReachNode } from './reach-node.ts';
import { furthest, LEAST_RATIO, type RuleRatios } from './reach-ratio.ts';

export interface SteppedGrid {
  readonly slopesDeg: readonly number[];
  readonly sagsMm: readonly number[];
  readonly nodes: readonly ReachNode[];
}

/**
 * Every finding's ratio between the nodes, linear in both directions; beyond the map that of its border. null beside a
 * place unknown.
 */
export function ratiosAt(
  { slopesDeg, sagsMm, nodes }: SteppedGrid,
  { slopeDeg, sagMm }: BackChangeStep,
): RuleRatios | null {
  const [c, u] = placeIn(slopesDeg, slopeDeg);
  const [r, v] = placeIn(sagsMm, sagMm);
  const corner = (dr: 0 | 1, dc: 0 | 1): ReachNode => nodes[(r + dr) * slopesDeg.length + c + dc]!;
  const corners = [
    [corner(0, 0), (1 - v) * (1 - u)],
    [corner(0, 1), (1 - v) * u],
    [corner(1, 0), v * (1 - u)],
    [corner(1, 1), v * u],
  ] as const;
  if (corners.some(([{ ratio }]) => ratio === null)) return null;
  const ratios: Partial<Record<FindingCode, number>> = {};
  for (const code of corners.flatMap(([node]) => Object.keys(node.ratios) as FindingCode[]))
    ratios[code] ??= corners.reduce((sum, [node, weight]) => sum + weight * (node.ratios[code] ?? LEAST_RATIO), 0);
  return ratios;
}

function placeIn(steps: readonly number[], value: number): [number, number] {
  const at = ((value - steps[0]!) / (steps[steps.length - 1]! - steps[0]!)) * (steps.length - 1);
  const i = Math.min(steps.length - 2, Math.max(0, Math.floor(at)));
  return [i, Math.min(1, Math.max(0, at - i))];
}

/** Share of the steps that lie where there is no finding; null where one lies beside a place unknown. */
export function shareWithin(grid: SteppedGrid, steps: readonly BackChangeStep[]): number | null {
  let free = 0;
  for (const step of steps) {
    const ratios = ratiosAt(grid, step);
    if (ratios === null) return null;
    if ((furthest(ratios)?.ratio ?? LEAST_RATIO) <= 1) free++;
  }
  return free / steps.length;
}
