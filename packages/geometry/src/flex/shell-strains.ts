import { createSplineRow, evaluateSplines, SPLINE_ORDER, type SplineBasis, type SplineRow } from '../numeric/index.ts';
import { add, cross, dot, frameOf, type ShellFrame, scale, type Vector, vector } from './shell-frame.ts';
import { createSurfaceJet, type ShellSurface, type SurfaceJet } from './shell-surface.ts';

/** A shell over its own spline grid: three displacements per control point, b slowest, then tau, then x y z. */
export interface ShellPatch {
  readonly surface: ShellSurface;
  readonly along: SplineBasis;
  readonly across: SplineBasis;
  readonly dofs: number;
  /** How far apart two coupled unknowns lie at most. */
  readonly halfWidth: number;
}

export function createPatch(surface: ShellSurface, along: SplineBasis, across: SplineBasis): ShellPatch {
  const points = along.count * across.count;
  return { surface, along, across, dofs: 3 * points, halfWidth: 3 * (3 * across.count + 3) + 2 };
}

/** Functions that are not zero at a place, times three displacements. */
export const LOCAL_DOFS = 3 * SPLINE_ORDER * SPLINE_ORDER;

/**
 * Linear strains at one place: 6 x LOCAL_DOFS rows by displacement, covariant in b and tau: membrane bb, tt, 2 x bt, then
 * curvature changes in the same order, + where the side towards the material's top stretches.
 */
export interface StrainRows {
  readonly rows: Float64Array;
  readonly jet: SurfaceJet;
  readonly along: SplineRow;
  readonly across: SplineRow;
  frame: ShellFrame;
}

const NOWHERE: ShellFrame = {
  a1: [1, 0, 0],
  a2: [0, 1, 0],
  a3: [0, 0, 1],
  up1: [1, 0, 0],
  up2: [0, 1, 0],
  area: 1,
  bend: [0, 0, 0, 0],
};

export const createStrainRows = (): StrainRows => ({
  rows: new Float64Array(6 * LOCAL_DOFS),
  jet: createSurfaceJet(),
  along: createSplineRow(),
  across: createSplineRow(),
  frame: NOWHERE,
});

/**
 * Kirchhoff-Love shell, linear: e_ab = sym(a_a . u,b), k_ab = b_ab before - after with the normal following u
 * (Kiendl et al. 2009, Comput. Methods Appl. Mech. Engrg. 198, eq. for the linearised curvature, re-derived).
 */
export function strainRowsAt(patch: ShellPatch, bMm: number, tau: number, out: StrainRows): StrainRows {
  const { rows, jet } = out;
  patch.surface.at(bMm, tau, jet);
  const sb = evaluateSplines(patch.along, bMm, out.along);
  const st = evaluateSplines(patch.across, tau, out.across);
  const frame = frameOf(jet);
  out.frame = frame;
  const { a1, a2, a3 } = frame;
  const bb = turnsWith(frame, jet.rbb);
  const tt = turnsWith(frame, jet.rtt);
  const bt = turnsWith(frame, jet.rbt);
  const n = LOCAL_DOFS;
  for (let i = 0; i < SPLINE_ORDER; i++) {
    for (let k = 0; k < SPLINE_ORDER; k++) {
      const nb = sb.slope[i]! * st.value[k]!;
      const nt = sb.value[i]! * st.slope[k]!;
      const nbb = sb.bend[i]! * st.value[k]!;
      const ntt = sb.value[i]! * st.bend[k]!;
      const nbt = sb.slope[i]! * st.slope[k]!;
      for (let a = 0; a < 3; a++) {
        const at = 3 * (SPLINE_ORDER * i + k) + a;
        rows[at] = a1[a]! * nb;
        rows[at + n] = a2[a]! * nt;
        rows[at + 2 * n] = a1[a]! * nt + a2[a]! * nb;
        rows[at + 3 * n] = bb.by1[a]! * nb + bb.by2[a]! * nt - a3[a]! * nbb;
        rows[at + 4 * n] = tt.by1[a]! * nb + tt.by2[a]! * nt - a3[a]! * ntt;
        rows[at + 5 * n] = 2 * (bt.by1[a]! * nb + bt.by2[a]! * nt - a3[a]! * nbt);
      }
    }
  }
  return out;
}

/** What a unit of u,1 and of u,2 does to r . a3 through the normal, r a second derivative of the surface. */
function turnsWith({ a1, a2, a3, up1, up2, area: j }: ShellFrame, of: Float64Array): { by1: Vector; by2: Vector } {
  const r = vector(of);
  const along = dot(a3, r);
  return {
    by1: add(scale(cross(r, a2), 1 / j), scale(up1, along)),
    by2: add(scale(cross(a1, r), 1 / j), scale(up2, along)),
  };
}
