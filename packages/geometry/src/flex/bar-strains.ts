import { SPLINE_ORDER } from '../numeric/index.ts';
import type { LayupAt } from './plies.ts';
import { type ShellFrame, strainMapAt } from './shell-frame.ts';
import { createStrainRows, LOCAL_DOFS, type ShellPatch, strainRowsAt } from './shell-strains.ts';

/** The largest stretch or shortening found, as a share (0.01 = 1 %), and where. */
export interface GreatestStrain {
  readonly strain: number;
  readonly bMm: number;
  readonly tau: number;
  /** Height above the underside before its edge relief: one face or the other. */
  readonly heightMm: number;
}

const PLACES_ACROSS = 7;
const STEP_MM = 5;

/**
 * Greatest principal strain, in size, on the underside and on top between two places along a bar. Linear shell: at a
 * foot's edge it is the strain of the beam there, without a notch's own.
 */
export function greatestStrain(
  { patch, layupAt }: { readonly patch: ShellPatch; readonly layupAt: LayupAt },
  u: Float64Array,
  fromMm: number,
  toMm: number,
): GreatestStrain {
  let most: GreatestStrain = { strain: 0, bMm: fromMm, tau: 0, heightMm: 0 };
  const rows = createStrainRows();
  const steps = Math.max(1, Math.ceil((toMm - fromMm) / STEP_MM));
  for (let i = 0; i <= steps; i++) {
    const bMm = fromMm + ((toMm - fromMm) * i) / steps;
    for (let k = 0; k < PLACES_ACROSS; k++) {
      const tau = -0.96 + (1.92 * k) / (PLACES_ACROSS - 1);
      const strains = strainsAt(patch, u, strainRowsAt(patch, bMm, tau, rows));
      if (!rows.jet.inside) continue;
      const { plies, riseMm } = layupAt(bMm, tau);
      for (const face of [plies[0]!.fromMm, plies[plies.length - 1]!.toMm]) {
        const heightMm = riseMm + face;
        const strain = principal(rows.frame, strains, heightMm);
        if (strain > most.strain) most = { strain, bMm, tau, heightMm };
      }
    }
  }
  return most;
}

/** Membrane 11, 22, 2 x 12 and curvature changes at the place that `rows` was filled for. */
function strainsAt(
  patch: ShellPatch,
  u: Float64Array,
  { rows, along, across }: ReturnType<typeof createStrainRows>,
): Float64Array {
  const out = new Float64Array(6);
  for (let i = 0; i < SPLINE_ORDER; i++) {
    for (let k = 0; k < SPLINE_ORDER; k++) {
      const point = (along.first + i) * patch.across.count + across.first + k;
      for (let a = 0; a < 3; a++) {
        const value = u[3 * point + a]!;
        for (let r = 0; r < 6; r++) out[r]! += rows[r * LOCAL_DOFS + 3 * (SPLINE_ORDER * i + k) + a]! * value;
      }
    }
  }
  return out;
}

function principal(frame: ShellFrame, s: Float64Array, heightMm: number): number {
  const map = strainMapAt(frame, heightMm, new Float64Array(18));
  const at = (row: number): number => s.reduce((sum, value, k) => sum + map[6 * row + k]! * value, 0);
  const [e1, e2, shear] = [at(0), at(1), at(2)];
  const middle = (e1 + e2) / 2;
  const radius = Math.hypot((e1 - e2) / 2, shear / 2);
  return Math.max(Math.abs(middle + radius), Math.abs(middle - radius));
}
