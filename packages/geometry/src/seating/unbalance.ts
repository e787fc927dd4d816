import type { FootRows } from '../spatial/distance-field.ts';
import type { Load } from './contact-energy.ts';
import { FREEDOMS, LEVER_MM, SEATING_FREEDOMS } from './pose.ts';
import type { SeatOptions } from './seat.ts';

/** The moment of the residual is compared with the load times this lever, mm (DESIGN 4). */
const RESIDUAL_LEVER_MM = 100;

/** Places of the free unknowns in the order of FREEDOMS. */
export const freedomsOf = ({ free = SEATING_FREEDOMS }: SeatOptions): readonly number[] =>
  FREEDOMS.map((name, i) => (free.includes(name) ? i : -1)).filter((i) => i >= 0);

/** Size of all loads together, N: what an unbalance is a share of. */
export function sizeOfLoads(loads: readonly Load[]): number {
  const sum = [0, 1, 2].map((a) => loads.reduce((total, { forceN }) => total + forceN[a]!, 0));
  return Math.max(1e-9, Math.hypot(...sum));
}

/** Unbalanced force on the free unknowns, and moment over the residual lever. N */
export function unbalanceN(gradient: Float64Array, free: readonly number[]): number {
  let force = 0;
  let moment = 0;
  for (const i of free) {
    if (i < 3) force += gradient[i]! ** 2;
    else moment += (gradient[i]! * (LEVER_MM / RESIDUAL_LEVER_MM)) ** 2;
  }
  return Math.sqrt(force) + Math.sqrt(moment);
}

/** A frozen cell that has just lost its foot keeps the last tangent plane until the mask is renewed. Writes `next`. */
export function bridgeLostCells(
  mask: Uint8Array,
  rows: FootRows,
  placed: Float64Array,
  next: FootRows,
  nextPlaced: Float64Array,
): void {
  for (let i = 0; i < mask.length; i++) {
    if (mask[i] === 0 || next.hasData[i] === 1) continue;
    let d = rows.distanceMm[i]!;
    for (let a = 3 * i; a < 3 * i + 3; a++) {
      d += rows.normal[a]! * (nextPlaced[a]! - placed[a]!);
      next.normal[a] = rows.normal[a]!;
      next.footMm[a] = rows.footMm[a]!;
    }
    next.distanceMm[i] = d;
    next.hessian.fill(0, 6 * i, 6 * i + 6);
  }
}
