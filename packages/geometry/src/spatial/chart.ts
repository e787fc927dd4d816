import type { Side } from './distance-field.ts';
import { extendGrid } from './extend-grid.ts';
import { prefilterSpline } from './prefilter-spline.ts';

/** Heights over a regular grid tilted to one bar. Node (i, j) lies at u = u0 + i cell, v = v0 + j cell. */
export interface ChartGrid {
  readonly side: Side;
  /** Slope of the bar's side of the back, outward and down, radians. */
  readonly tiltRad: number;
  readonly u0Mm: number;
  readonly v0Mm: number;
  readonly cellMm: number;
  readonly nu: number;
  readonly nv: number;
  /** nu x nv heights w, row-major (row = constant u), mm. Undefined where the mask is 0. */
  readonly heightsMm: Float64Array | Float32Array;
  /** 1 where there is data. */
  readonly mask: Uint8Array;
  /** Standard deviation of the smoothing the heights went through, mm. Default 0. */
  readonly smoothingMm?: number;
  /** Share of the covered nodes given up as folded. Default 0. */
  readonly foldedFraction?: number;
}

/**
 * One side of the back as a once continuously differentiable height field w = f(u, v) over a plane tilted to the bar:
 *   u = x,  v = c y - s z,  w = s y + c z   with c = cos(tilt), s = +sin(tilt) on the right, -sin(tilt) on the left,
 * so that w runs along the side's mean outward normal (0, s, c). Right-handed on both sides.
 */
export interface Chart {
  readonly side: Side;
  readonly tiltRad: number;
  readonly cosTilt: number;
  /** Signed: negative on the left. */
  readonly sinTilt: number;
  readonly u0Mm: number;
  readonly v0Mm: number;
  readonly cellMm: number;
  readonly nu: number;
  readonly nv: number;
  /** nu x nv quadratic B-spline coefficients, row-major. Single precision: 4e-6 mm on heights below 128 mm. */
  readonly coefficients: Float32Array;
  /** 1 where all nine nodes around a node have data, so that the spline may be evaluated there. */
  readonly stencilOk: Uint8Array;
  readonly smoothingMm: number;
  readonly foldedFraction: number;
}

/** Makes the spline of a grid. Throws RangeError when the sizes do not match. */
export function createChart(grid: ChartGrid): Chart {
  const { side, tiltRad, nu, nv } = grid;
  if (grid.heightsMm.length !== nu * nv || grid.mask.length !== nu * nv) {
    throw new RangeError(`expected ${nu} x ${nv} heights and mask, got ${grid.heightsMm.length}, ${grid.mask.length}`);
  }
  const filled = extendGrid(grid.heightsMm, grid.mask, nu, nv);
  return {
    side,
    tiltRad,
    cosTilt: Math.cos(tiltRad),
    sinTilt: side === 'right' ? Math.sin(tiltRad) : -Math.sin(tiltRad),
    u0Mm: grid.u0Mm,
    v0Mm: grid.v0Mm,
    cellMm: grid.cellMm,
    nu,
    nv,
    coefficients: Float32Array.from(prefilterSpline(filled, nu, nv)),
    stencilOk: erodeMask(grid.mask, nu, nv),
    smoothingMm: grid.smoothingMm ?? 0,
    foldedFraction: grid.foldedFraction ?? 0,
  };
}

function erodeMask(mask: Uint8Array, nu: number, nv: number): Uint8Array {
  const ok = new Uint8Array(nu * nv);
  for (let i = 1; i < nu - 1; i++) {
    for (let j = 1; j < nv - 1; j++) {
      const k = i * nv + j;
      const a = mask[k - nv - 1] & mask[k - nv] & mask[k - nv + 1];
      const b = mask[k - 1] & mask[k] & mask[k + 1];
      ok[k] = a & b & mask[k + nv - 1] & mask[k + nv] & mask[k + nv + 1];
    }
  }
  return ok;
}

/** A regular grid covering both ranges, its nodes on whole multiples of the cell, so that mirrored ranges mirror. */
export function chartLattice(
  uRangeMm: readonly [number, number],
  vRangeMm: readonly [number, number],
  cellMm: number,
): { u0Mm: number; v0Mm: number; cellMm: number; nu: number; nv: number } {
  const iu = Math.floor(uRangeMm[0] / cellMm);
  const iv = Math.floor(vRangeMm[0] / cellMm);
  return {
    u0Mm: iu * cellMm,
    v0Mm: iv * cellMm,
    cellMm,
    nu: Math.ceil(uRangeMm[1] / cellMm) - iu + 1,
    nv: Math.ceil(vRangeMm[1] / cellMm) - iv + 1,
  };
}
