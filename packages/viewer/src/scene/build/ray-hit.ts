export interface Ray {
  readonly origin: readonly [number, number, number];
  /** Need not be of unit length. */
  readonly towards: readonly [number, number, number];
}

export interface Hit {
  /** First index of the triangle in the list of triangles. */
  readonly triangle: number;
  /** In lengths of `towards`. */
  readonly distance: number;
  /** Weights of the triangle's three corners at the place hit, together 1. */
  readonly weights: readonly [number, number, number];
}

/**
 * The nearest triangle that a ray meets from either side, null for none. `positions` are 3n, `triangles` indices into them.
 * Source: T. Möller and B. Trumbore 1997, ray against triangle, from memory.
 */
export function rayHit({ origin, towards }: Ray, p: ArrayLike<number>, triangles: ArrayLike<number>): Hit | null {
  const [dx, dy, dz] = towards;
  let best: Hit | null = null;
  let nearest = Number.POSITIVE_INFINITY;
  for (let k = 0; k < triangles.length; k += 3) {
    const a = 3 * triangles[k]!;
    const b = 3 * triangles[k + 1]!;
    const c = 3 * triangles[k + 2]!;
    const ux = p[b]! - p[a]!;
    const uy = p[b + 1]! - p[a + 1]!;
    const uz = p[b + 2]! - p[a + 2]!;
    const vx = p[c]! - p[a]!;
    const vy = p[c + 1]! - p[a + 1]!;
    const vz = p[c + 2]! - p[a + 2]!;
    const hx = dy * vz - dz * vy;
    const hy = dz * vx - dx * vz;
    const hz = dx * vy - dy * vx;
    const det = ux * hx + uy * hy + uz * hz;
    if (det === 0) continue;
    const sx = origin[0] - p[a]!;
    const sy = origin[1] - p[a + 1]!;
    const sz = origin[2] - p[a + 2]!;
    const u = (sx * hx + sy * hy + sz * hz) / det;
    if (!(u >= 0 && u <= 1)) continue;
    const qx = sy * uz - sz * uy;
    const qy = sz * ux - sx * uz;
    const qz = sx * uy - sy * ux;
    const v = (dx * qx + dy * qy + dz * qz) / det;
    if (!(v >= 0 && u + v <= 1)) continue;
    const distance = (vx * qx + vy * qy + vz * qz) / det;
    if (distance <= 0 || distance >= nearest) continue;
    nearest = distance;
    best = { triangle: k, distance, weights: [1 - u - v, u, v] };
  }
  return best;
}
