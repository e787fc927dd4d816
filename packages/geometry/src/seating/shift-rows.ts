import type { FootRows } from '../spatial/distance-field.ts';

/**
 * Carries the rows of a look along with a very short move of its points, by the distance's own Taylor series:
 * d + n . s + s . H s / 2 and n + H s where the Hessian is known (d below `hessianBelowMm`), first order elsewhere.
 * Errs by the square of the move times the bend: 1e-10 mm for moves of 1e-4 mm on bends of 50 mm radius.
 */
export function shiftRows(rows: FootRows, from: Float64Array, to: Float64Array, hessianBelowMm: number): void {
  shift(rows.distanceMm, rows.footMm, rows.normal, rows.hessian, rows.hasData, from, to, hessianBelowMm);
}

function shift(
  distanceMm: Float64Array,
  footMm: Float64Array,
  normal: Float64Array,
  hessian: Float64Array,
  hasData: Uint8Array,
  from: Float64Array,
  to: Float64Array,
  hessianBelowMm: number,
): void {
  for (let i = 0; i < distanceMm.length; i++) {
    if (hasData[i] === 0) continue;
    const j = 3 * i;
    const sx = to[j]! - from[j]!;
    const sy = to[j + 1]! - from[j + 1]!;
    const sz = to[j + 2]! - from[j + 2]!;
    let nx = normal[j]!;
    let ny = normal[j + 1]!;
    let nz = normal[j + 2]!;
    let d = distanceMm[i]!;
    const bends = d < hessianBelowMm;
    d += nx * sx + ny * sy + nz * sz;
    if (bends) {
      const h = 6 * i;
      const qx = hessian[h]! * sx + hessian[h + 1]! * sy + hessian[h + 2]! * sz;
      const qy = hessian[h + 1]! * sx + hessian[h + 3]! * sy + hessian[h + 4]! * sz;
      const qz = hessian[h + 2]! * sx + hessian[h + 4]! * sy + hessian[h + 5]! * sz;
      d += 0.5 * (sx * qx + sy * qy + sz * qz);
      nx += qx;
      ny += qy;
      nz += qz;
      normal[j] = nx;
      normal[j + 1] = ny;
      normal[j + 2] = nz;
    }
    distanceMm[i] = d;
    footMm[j] = to[j]! - d * nx;
    footMm[j + 1] = to[j + 1]! - d * ny;
    footMm[j + 2] = to[j + 2]! - d * nz;
  }
}
