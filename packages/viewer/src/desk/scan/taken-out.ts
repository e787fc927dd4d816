import type { TriangleMesh } from '@barwright/geometry';

/**
 * The triangles of a mesh that a cleaned version of it has no more. Both name vertices alike, and cleaning keeps the order of what
 * stays; a triangle that was only turned over is the same one.
 */
export function takenOut(before: TriangleMesh, after: TriangleMesh): TriangleMesh {
  const gone: number[] = [];
  let at = 0;
  for (let t = 0; t < before.triangles.length; t += 3) {
    if (isSame(before.triangles, t, after.triangles, at)) at += 3;
    else gone.push(before.triangles[t]!, before.triangles[t + 1]!, before.triangles[t + 2]!);
  }
  return { positions: before.positions, triangles: Uint32Array.from(gone) };
}

function isSame(one: Uint32Array, t: number, other: Uint32Array, u: number): boolean {
  if (u >= other.length) return false;
  const has = (vertex: number): boolean => other[u] === vertex || other[u + 1] === vertex || other[u + 2] === vertex;
  return has(one[t]!) && has(one[t + 1]!) && has(one[t + 2]!);
}
