const EAR_LIMIT = 256;

/**
 * Splits a polygon into triangles with its own winding: a fan when it is convex, ear clipping when it has a re-entrant corner.
 * Above 256 corners, or when it crosses itself so that no ear is left, the rest is fanned.
 * @param positions 3n coordinates; @param corners indices into them, at least 3.
 */
export function triangulatePolygon(positions: Float64Array, corners: readonly number[]): number[] {
  if (corners.length === 3) return [...corners];
  const flat = flatten(positions, corners);
  const rest = corners.map((_, i) => i);
  const out: number[] = [];
  if (corners.length <= EAR_LIMIT && rest.some((_, i) => turn(flat, rest, i) < 0)) clipEars(flat, rest, out);
  for (let i = 1; i + 1 < rest.length; i++) out.push(rest[0], rest[i], rest[i + 1]);
  return out.map((i) => corners[i]);
}

/** Corner coordinates in the plane most nearly facing the polygon, counter-clockwise; area vector after Newell (from memory). */
function flatten(positions: Float64Array, corners: readonly number[]): Float64Array {
  const area = [0, 0, 0];
  corners.forEach((corner, i) => {
    const p = 3 * corner;
    const q = 3 * corners[(i + 1) % corners.length];
    for (let k = 0; k < 3; k++) {
      const u = (k + 1) % 3;
      const v = (k + 2) % 3;
      area[k] += (positions[p + u] - positions[q + u]) * (positions[p + v] + positions[q + v]);
    }
  });
  const size = area.map(Math.abs);
  const drop = size.indexOf(Math.max(...size));
  const sign = area[drop] < 0 ? -1 : 1;
  const flat = new Float64Array(2 * corners.length);
  corners.forEach((corner, i) => {
    flat[2 * i] = positions[3 * corner + ((drop + 1) % 3)];
    flat[2 * i + 1] = sign * positions[3 * corner + ((drop + 2) % 3)];
  });
  return flat;
}

function clipEars(flat: Float64Array, rest: number[], out: number[]): void {
  for (let clipped = true; clipped && rest.length > 3; ) {
    clipped = false;
    for (let i = 0; i < rest.length && rest.length > 3; i++) {
      if (!isEar(flat, rest, i)) continue;
      const n = rest.length;
      out.push(rest[(i + n - 1) % n], rest[i], rest[(i + 1) % n]);
      rest.splice(i, 1);
      clipped = true;
    }
  }
}

function isEar(flat: Float64Array, rest: readonly number[], i: number): boolean {
  if (turn(flat, rest, i) <= 0) return false;
  const n = rest.length;
  const a = rest[(i + n - 1) % n];
  const b = rest[i];
  const c = rest[(i + 1) % n];
  return rest.every((p) => p === a || p === b || p === c || !inside(flat, a, b, c, p));
}

function turn(flat: Float64Array, rest: readonly number[], i: number): number {
  const n = rest.length;
  return side(flat, rest[(i + n - 1) % n], rest[i], rest[(i + 1) % n]);
}

function inside(flat: Float64Array, a: number, b: number, c: number, p: number): boolean {
  return side(flat, a, b, p) >= 0 && side(flat, b, c, p) >= 0 && side(flat, c, a, p) >= 0;
}

/** Twice the signed area of the triangle a b c. */
function side(flat: Float64Array, a: number, b: number, c: number): number {
  const x = flat[2 * a];
  const y = flat[2 * a + 1];
  return (flat[2 * b] - x) * (flat[2 * c + 1] - y) - (flat[2 * b + 1] - y) * (flat[2 * c] - x);
}
