import { plateau, scaleJet } from '../numeric/index.ts';
import type { Underside } from './underside.ts';

/** A piece under a bar. Its outline is level in plan, its edges are skived over `rampMm` inside the outline. mm */
export interface ShimShape {
  /** Along: from the front tip edge on a bar, behind the blade edge on a horse. */
  readonly fromMm: number;
  readonly toMm: number;
  /** Outward from the midplane. */
  readonly innerMm: number;
  readonly outerMm: number;
  /** Square to the surface, in the middle. */
  readonly thicknessMm: number;
  readonly rampMm: number;
}

/**
 * A bar with shims fixed to its underside: each takes thickness / cos(station's slope) off the height, along z, as flare and
 * relief are given. Left out where a bar is measured bare: a shim is no part of the shape.
 */
export function shimUnderside(bar: Underside, shims: readonly ShimShape[]): Underside {
  if (shims.length === 0) return bar;
  return {
    ...bar,
    heightJet(row, yMm, out, bare = false) {
      bar.heightJet(row, yMm, out, bare);
      if (bare) return out;
      const upright = row.uprightShare;
      for (const { fromMm, toMm, innerMm, outerMm, thicknessMm, rampMm } of shims) {
        const along = plateau(row.bMm, fromMm + rampMm, toMm - rampMm, rampMm);
        const across = scaleJet(plateau(yMm, innerMm + rampMm, outerMm - rampMm, rampMm), thicknessMm);
        const [a, a1, a2] = along;
        const [u, u1, u2] = upright;
        const first = a1 * u + a * u1;
        out.z -= a * u * across[0];
        out.zb -= first * across[0];
        out.zy -= a * u * across[1];
        out.zbb -= (a2 * u + 2 * a1 * u1 + a * u2) * across[0];
        out.zby -= first * across[1];
        out.zyy -= a * u * across[2];
      }
      return out;
    },
  };
}
