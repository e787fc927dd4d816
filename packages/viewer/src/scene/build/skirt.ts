/** Walls from a mesh's open border straight down to a floor, so that a back reads as a cast and not as a cloth. */
export function buildSkirt(
  positions: Float32Array,
  triangles: Uint32Array,
  floorZMm: number,
): { positions: Float32Array; triangles: Uint32Array } {
  const border = borderEdges(triangles);
  const out = new Float32Array(12 * border.length);
  const index = new Uint32Array(6 * border.length);
  border.forEach(([a, b], e) => {
    for (const [k, v] of [a, b].entries()) {
      const [x, y, z] = [positions[3 * v]!, positions[3 * v + 1]!, positions[3 * v + 2]!];
      out.set([x, y, z, x, y, floorZMm], 12 * e + 6 * k);
    }
    const i = 4 * e;
    index.set([i, i + 1, i + 2, i + 2, i + 1, i + 3], 6 * e);
  });
  return { positions: out, triangles: index };
}

/** Edges that only one triangle has, in its direction. */
export function borderEdges(triangles: Uint32Array): (readonly [number, number])[] {
  const seen = new Map<string, readonly [number, number]>();
  for (let t = 0; t < triangles.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      const a = triangles[t + k]!;
      const b = triangles[t + ((k + 1) % 3)]!;
      const back = `${b} ${a}`;
      if (!seen.delete(back)) seen.set(`${a} ${b}`, [a, b]);
    }
  }
  return [...seen.values()];
}
