/**
 * Where a mesh crosses the plane x = xMm: segments as pairs of points, 6 numbers each, written to `out`.
 * @returns how many segments were written
 */
export function planeCut(positions: Float32Array, triangles: Uint32Array, xMm: number, out: Float32Array): number {
  let count = 0;
  for (let t = 0; t < triangles.length && 6 * count + 6 <= out.length; t += 3) {
    const a = 3 * triangles[t]!;
    const b = 3 * triangles[t + 1]!;
    const c = 3 * triangles[t + 2]!;
    const ahead = [positions[a]! < xMm, positions[b]! < xMm, positions[c]! < xMm];
    if (ahead[0] === ahead[1] && ahead[1] === ahead[2]) continue;
    let at = 6 * count;
    for (const [p, q, differ] of [
      [a, b, ahead[0] !== ahead[1]],
      [b, c, ahead[1] !== ahead[2]],
      [c, a, ahead[2] !== ahead[0]],
    ] as const) {
      if (!differ) continue;
      const share = (xMm - positions[p]!) / (positions[q]! - positions[p]!);
      for (let k = 0; k < 3; k++) out[at++] = positions[p + k]! + share * (positions[q + k]! - positions[p + k]!);
    }
    count++;
  }
  return count;
}
