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

/** Leaves out faces that have no usable normal, and repeats of a face. Answers the array handed in when all faces stay. */
export function dropFaces(positions: Float64Array, triangles: Uint32Array, maxAspect: number): DroppedFaces {
  const repeats = new RepeatFinder(triangles, positions.length / 3);
  // Made when the first face goes.
  let kept: Uint32Array | null = null;
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
    else if (repeats.has(i)) duplicates++;
    else {
      if (kept !== null) {
        kept[length] = a;
        kept[length + 1] = b;
        kept[length + 2] = c;
      }
      length += 3;
      continue;
    }
    kept ??= triangles.slice();
  }
  return { triangles: kept === null ? triangles : kept.slice(0, length), zeroArea, needles, duplicates };
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
    (ux - vx) * (ux - vx) + (uy - vy) * (uy - vy) + (uz - vz) * (uz - vz),
  );
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const doubleArea = Math.sqrt(nx * nx + ny * ny + nz * nz);
  return doubleArea > 0 ? longest / doubleArea : Number.POSITIVE_INFINITY;
}

/** Faces looked through at one vertex before the search goes over to a hash table. */
const MOST_AT_A_VERTEX = 64;

/** Remembers faces by their lowest vertex, whose few other faces are mostly in the cache; by a hash table once a vertex has many. */
class RepeatFinder {
  readonly #triangles: Uint32Array;
  /** Newest face at each vertex, by its first corner plus one, and the one before each face. */
  readonly #newest: Int32Array;
  readonly #older: Int32Array;
  #slots: Int32Array | null = null;

  constructor(triangles: Uint32Array, vertices: number) {
    this.#triangles = triangles;
    this.#newest = new Int32Array(vertices);
    this.#older = new Int32Array(triangles.length / 3);
  }

  /** Whether a face asked about before has the corners of the face at `i`; if not, remembers that this one does. */
  has(i: number): boolean {
    if (this.#slots !== null) return this.#hasHashed(i, this.#slots);
    const t = this.#triangles;
    const low = Math.min(t[i], t[i + 1], t[i + 2]);
    let looked = 0;
    for (let at = this.#newest[low] - 1; at >= 0; at = this.#older[(at / 3) | 0] - 1) {
      if (sameCorners(t, at, i)) return true;
      if (++looked > MOST_AT_A_VERTEX) return this.#hasHashed(i, this.#hashAll());
    }
    this.#older[(i / 3) | 0] = this.#newest[low];
    this.#newest[low] = i + 1;
    return false;
  }

  #hashAll(): Int32Array {
    const slots = new Int32Array(2 ** Math.ceil(Math.log2(Math.max(2, this.#triangles.length))));
    this.#slots = slots;
    for (const newest of this.#newest) {
      for (let at = newest - 1; at >= 0; at = this.#older[(at / 3) | 0] - 1) this.#hasHashed(at, slots);
    }
    return slots;
  }

  #hasHashed(i: number, slots: Int32Array): boolean {
    const t = this.#triangles;
    const mask = slots.length - 1;
    const low = Math.min(t[i], t[i + 1], t[i + 2]);
    const high = Math.max(t[i], t[i + 1], t[i + 2]);
    const middle = t[i] + t[i + 1] + t[i + 2] - low - high;
    let slot = scramble(Math.imul(low, 0x9e3779b1) ^ scramble(Math.imul(middle, 0x85ebca6b) ^ scramble(high))) & mask;
    for (; slots[slot] > 0; slot = (slot + 1) & mask) if (sameCorners(t, slots[slot] - 1, i)) return true;
    slots[slot] = i + 1;
    return false;
  }
}

/** Both faces have three different corners. */
function sameCorners(t: Uint32Array, i: number, j: number): boolean {
  return isCornerOf(t, i, t[j]) && isCornerOf(t, i, t[j + 1]) && isCornerOf(t, i, t[j + 2]);
}

function isCornerOf(t: Uint32Array, i: number, vertex: number): boolean {
  return t[i] === vertex || t[i + 1] === vertex || t[i + 2] === vertex;
}
