import { scramble } from './exact-welder.ts';

export interface DroppedFaces {
  readonly triangles: Uint32Array;
  /** Faces with two equal corners or no area at all. */
  readonly zeroArea: number;
  /** Faces longer than `maxAspect` times their height. */
  readonly needles: number;
  /** Faces with the same three corners as an earlier one, in any order. */
  readonly duplicates: number;
}

/** Leaves out faces that have no usable normal, and repeats of a face. */
export function dropFaces(positions: Float64Array, triangles: Uint32Array, maxAspect: number): DroppedFaces {
  const kept = new Uint32Array(triangles.length);
  const slots = new Int32Array(2 ** Math.ceil(Math.log2(Math.max(2, triangles.length)))).fill(-1);
  let length = 0;
  let zeroArea = 0;
  let needles = 0;
  let duplicates = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const a = triangles[i];
    const b = triangles[i + 1];
    const c = triangles[i + 2];
    const aspect = a === b || b === c || c === a ? Number.POSITIVE_INFINITY : faceAspect(positions, a, b, c);
    if (aspect === Number.POSITIVE_INFINITY) zeroArea++;
    else if (aspect > maxAspect) needles++;
    else if (isRepeat(kept, slots, length, a, b, c)) duplicates++;
    else {
      kept[length++] = a;
      kept[length++] = b;
      kept[length++] = c;
    }
  }
  return { triangles: kept.slice(0, length), zeroArea, needles, duplicates };
}

/** Longest edge over the height above it: longest^2 / (2 area). */
function faceAspect(p: Float64Array, a: number, b: number, c: number): number {
  const ux = p[3 * b] - p[3 * a];
  const uy = p[3 * b + 1] - p[3 * a + 1];
  const uz = p[3 * b + 2] - p[3 * a + 2];
  const vx = p[3 * c] - p[3 * a];
  const vy = p[3 * c + 1] - p[3 * a + 1];
  const vz = p[3 * c + 2] - p[3 * a + 2];
  const longest = Math.max(
    ux * ux + uy * uy + uz * uz,
    vx * vx + vy * vy + vz * vz,
    (ux - vx) ** 2 + (uy - vy) ** 2 + (uz - vz) ** 2,
  );
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const doubleArea = Math.sqrt(nx * nx + ny * ny + nz * nz);
  return doubleArea > 0 ? longest / doubleArea : Number.POSITIVE_INFINITY;
}

/** Whether a kept face has these corners; if not, remembers that the next kept face will. */
function isRepeat(kept: Uint32Array, slots: Int32Array, length: number, a: number, b: number, c: number): boolean {
  const mask = slots.length - 1;
  const low = Math.min(a, b, c);
  const high = Math.max(a, b, c);
  const middle = a + b + c - low - high;
  let slot = scramble(Math.imul(low, 0x9e3779b1) ^ scramble(Math.imul(middle, 0x85ebca6b) ^ scramble(high))) & mask;
  for (; slots[slot] >= 0; slot = (slot + 1) & mask) {
    const at = slots[slot];
    const p = kept[at];
    const q = kept[at + 1];
    const r = kept[at + 2];
    if (Math.min(p, q, r) === low && Math.max(p, q, r) === high && p + q + r === a + b + c) return true;
  }
  slots[slot] = length;
  return false;
}
