/** Distance from a place to the nearest of many points, looked up in cubes of space. */
export type NearestPoint = (x: number, y: number, z: number) => number;

const CUBE_MM = 8;
/** Nothing farther than this is looked for: infinity is answered. */
export const FARTHEST_MM = 40;

/** @param points 3n, mm. Built once for a scan: its points are sorted into cubes of 8 mm. */
export function nearestPoint(points: Float32Array): NearestPoint {
  const cubes = new Map<number, number[]>();
  const place = (mm: number): number => Math.floor(mm / CUBE_MM) + HALF;
  for (let k = 0; k < points.length; k += 3) {
    const key = keyOf(place(points[k]!), place(points[k + 1]!), place(points[k + 2]!));
    const held = cubes.get(key);
    if (held === undefined) cubes.set(key, [k]);
    else held.push(k);
  }
  return (x, y, z) => {
    const [i, j, k] = [place(x), place(y), place(z)];
    let best = Number.POSITIVE_INFINITY;
    // Shell by shell: what lies r + 1 shells off is at least r cubes away.
    for (let r = 0; r * CUBE_MM <= FARTHEST_MM && best > ((r - 1) * CUBE_MM) ** 2; r++) {
      for (let a = -r; a <= r; a++) {
        for (let b = -r; b <= r; b++) {
          const isRim = Math.abs(a) === r || Math.abs(b) === r;
          for (let c = -r; c <= r; c += isRim || r === 0 ? 1 : 2 * r) {
            for (const at of cubes.get(keyOf(i + a, j + b, k + c)) ?? [])
              best = Math.min(best, (points[at]! - x) ** 2 + (points[at + 1]! - y) ** 2 + (points[at + 2]! - z) ** 2);
          }
        }
      }
    }
    const distance = Math.sqrt(best);
    return distance <= FARTHEST_MM ? distance : Number.POSITIVE_INFINITY;
  };
}

const HALF = 4096;
const SPAN = 2 * HALF;
const keyOf = (i: number, j: number, k: number): number => (i * SPAN + j) * SPAN + k;
