import { createSplineRow, evaluateSplines, SPLINE_ORDER, type SplineBasis, type SplineRow } from '../numeric/index.ts';
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
 * Linear strains at one place: 6 x LOCAL_DOFS rows by displacement, in axes along the bar (1), across (2) and normal:
 * membrane 11, 22, 2 x 12, then curvature changes in the same order, + where the side towards the material's top stretches.
 */
export interface StrainRows {
  readonly rows: Float64Array;
  readonly jet: SurfaceJet;
  readonly along: SplineRow;
  readonly across: SplineRow;
  /** Area of the surface per db dtau, mm. */
  area: number;
}

export const createStrainRows = (): StrainRows => ({
  rows: new Float64Array(6 * LOCAL_DOFS),
  jet: createSurfaceJet(),
  along: createSplineRow(),
  across: createSplineRow(),
  area: 0,
});

type Vector = readonly [number, number, number];

/**
 * Kirchhoff-Love shell, linear: e_ab = sym(a_a . u,b), k_ab = b_ab before - after with the normal following u
 * (Kiendl et al. 2009, Comput. Methods Appl. Mech. Engrg. 198, eq. for the linearised curvature, re-derived).
 */
export function strainRowsAt(patch: ShellPatch, bMm: number, tau: number, out: StrainRows): StrainRows {
  const { rows, jet } = out;
  patch.surface.at(bMm, tau, jet);
  const sb = evaluateSplines(patch.along, bMm, out.along);
  const st = evaluateSplines(patch.across, tau, out.across);
  const a1 = vector(jet.rb);
  const a2 = vector(jet.rt);
  const across = cross(a1, a2);
  const j = Math.hypot(...across);
  const a3: Vector = [across[0] / j, across[1] / j, across[2] / j];
  out.area = j;
  const up1 = scale(cross(a2, a3), 1 / j);
  const up2 = scale(cross(a3, a1), 1 / j);
  const bends = [vector(jet.rbb), vector(jet.rtt), vector(jet.rbt)].map((r) => ({
    by1: add(scale(cross(r, a2), 1 / j), scale(up1, dot(a3, r))),
    by2: add(scale(cross(a1, r), 1 / j), scale(up2, dot(a3, r))),
  }));
  const e1 = scale(a1, 1 / Math.hypot(...a1));
  const e2 = cross(a3, e1);
  const [c11, c12, c22] = [dot(up1, e1), dot(up1, e2), dot(up2, e2)];
  const n = LOCAL_DOFS;
  for (let i = 0; i < SPLINE_ORDER; i++) {
    for (let k = 0; k < SPLINE_ORDER; k++) {
      const nb = sb.slope[i]! * st.value[k]!;
      const nt = sb.value[i]! * st.slope[k]!;
      const second = [sb.bend[i]! * st.value[k]!, sb.value[i]! * st.bend[k]!, sb.slope[i]! * st.slope[k]!];
      for (let a = 0; a < 3; a++) {
        const at = 3 * (SPLINE_ORDER * i + k) + a;
        const bb = a1[a]! * nb;
        const tt = a2[a]! * nt;
        const bt = a1[a]! * nt + a2[a]! * nb;
        turn(bb, tt, bt, c11, c12, c22, rows, at, n);
        const kappa = (of: number): number => {
          const { by1, by2 } = bends[of]!;
          return by1[a]! * nb + by2[a]! * nt - a3[a]! * second[of]!;
        };
        turn(kappa(0), kappa(1), 2 * kappa(2), c11, c12, c22, rows, 3 * n + at, n);
      }
    }
  }
  return out;
}

/** Components along b and tau to axes along and across the bar; engineering shear third. */
function turn(
  bb: number,
  tt: number,
  bt: number,
  c11: number,
  c12: number,
  c22: number,
  rows: Float64Array,
  at: number,
  n: number,
): void {
  rows[at] = c11 * c11 * bb;
  rows[at + n] = c12 * c12 * bb + c22 * c22 * tt + c12 * c22 * bt;
  rows[at + 2 * n] = 2 * c11 * c12 * bb + c11 * c22 * bt;
}

const vector = (v: Float64Array): Vector => [v[0]!, v[1]!, v[2]!];
const dot = (p: Vector, q: Vector): number => p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
const scale = (p: Vector, s: number): Vector => [p[0] * s, p[1] * s, p[2] * s];
const add = (p: Vector, q: Vector): Vector => [p[0] + q[0], p[1] + q[1], p[2] + q[2]];
const cross = (p: Vector, q: Vector): Vector => [
  p[1] * q[2] - p[2] * q[1],
  p[2] * q[0] - p[0] * q[2],
  p[0] * q[1] - p[1] * q[0],
];
