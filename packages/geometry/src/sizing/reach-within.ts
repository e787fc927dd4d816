import type { BackChangeStep } from './reach-lift.ts';
import type { ReachNode } from './reach-node.ts';

export interface SteppedGrid {
  readonly slopesDeg: readonly number[];
  readonly sagsMm: readonly number[];
  readonly nodes: readonly ReachNode[];
}

/** Ratio between the nodes, linear in both directions; beyond the map that of its border. null beside a place unknown. */
export function ratioAt({ slopesDeg, sagsMm, nodes }: SteppedGrid, { slopeDeg, sagMm }: BackChangeStep): number | null {
  const [c, u] = placeIn(slopesDeg, slopeDeg);
  const [r, v] = placeIn(sagsMm, sagMm);
  let sum = 0;
  for (const [dr, dc, weight] of [
    [0, 0, (1 - v) * (1 - u)],
    [0, 1, (1 - v) * u],
    [1, 0, v * (1 - u)],
    [1, 1, v * u],
  ] as const) {
    const { ratio } = nodes[(r + dr) * slopesDeg.length + c + dc]!;
    if (ratio === null) return null;
    sum += weight * ratio;
  }
  return sum;
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
    const ratio = ratioAt(grid, step);
    if (ratio === null) return null;
    if (ratio <= 1) free++;
  }
  return free / steps.length;
}
