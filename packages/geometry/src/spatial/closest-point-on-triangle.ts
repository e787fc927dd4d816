/**
 * Features of a triangle a b c that a nearest point can lie on. Edge k runs from corner k to corner k + 1.
 */
export const FACE = 0;
export const EDGE_0 = 1;
export const EDGE_1 = 2;
export const EDGE_2 = 3;
export const CORNER_0 = 4;
export const CORNER_1 = 5;
export const CORNER_2 = 6;

/**
 * Nearest point of a triangle, by the regions of its plane (Ericson, Real-Time Collision Detection 2005, 5.1.5, from
 * memory). Writes x y z to `out[0..2]`, the squared distance to `out[3]`, and returns the feature.
 * The triangle must have an area: slivers are left out when the tree is built.
 */
export function closestPointOnTriangle(
  positions: Float64Array,
  a3: number,
  b3: number,
  c3: number,
  px: number,
  py: number,
  pz: number,
  out: Float64Array,
): number {
  const ax = positions[a3];
  const ay = positions[a3 + 1];
  const az = positions[a3 + 2];
  const abx = positions[b3] - ax;
  const aby = positions[b3 + 1] - ay;
  const abz = positions[b3 + 2] - az;
  const acx = positions[c3] - ax;
  const acy = positions[c3 + 1] - ay;
  const acz = positions[c3 + 2] - az;
  const apx = px - ax;
  const apy = py - ay;
  const apz = pz - az;
  const d1 = abx * apx + aby * apy + abz * apz;
  const d2 = acx * apx + acy * apy + acz * apz;
  const bb = abx * abx + aby * aby + abz * abz;
  const cc = acx * acx + acy * acy + acz * acz;
  const bc = abx * acx + aby * acy + abz * acz;
  const d3 = d1 - bb;
  const d4 = d2 - bc;
  const d5 = d1 - bc;
  const d6 = d2 - cc;
  // Weights of b and c in the answer.
  let s = 0;
  let t = 0;
  let feature = FACE;
  const vc = d1 * d4 - d3 * d2;
  const vb = d5 * d2 - d1 * d6;
  const va = d3 * d6 - d5 * d4;
  if (d1 <= 0 && d2 <= 0) {
    feature = CORNER_0;
  } else if (d3 >= 0 && d4 <= d3) {
    feature = CORNER_1;
    s = 1;
  } else if (vc <= 0 && d1 >= 0 && d3 <= 0) {
    feature = EDGE_0;
    s = d1 / (d1 - d3);
  } else if (d6 >= 0 && d5 <= d6) {
    feature = CORNER_2;
    t = 1;
  } else if (vb <= 0 && d2 >= 0 && d6 <= 0) {
    feature = EDGE_2;
    t = d2 / (d2 - d6);
  } else if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
    feature = EDGE_1;
    t = (d4 - d3) / (d4 - d3 + (d5 - d6));
    s = 1 - t;
  } else {
    const share = 1 / (va + vb + vc);
    s = vb * share;
    t = vc * share;
  }
  const x = ax + s * abx + t * acx;
  const y = ay + s * aby + t * acy;
  const z = az + s * abz + t * acz;
  const dx = px - x;
  const dy = py - y;
  const dz = pz - z;
  out[0] = x;
  out[1] = y;
  out[2] = z;
  out[3] = dx * dx + dy * dy + dz * dz;
  return feature;
}
