import { MAX_COORDINATE } from './raw-mesh.ts';

/**
 * Kernels for the layout that nearly every scanner writes: little-endian float x y z and nothing else, faces as a one-byte count
 * with four-byte indices. Measured on a million triangles: copying vertices to an aligned block and widening them there takes a
 * quarter of the time of reading them one by one; for faces a DataView with a literal byte order beats both reading single bytes
 * and shifting aligned words (2.7, 5.5 and 9 ms).
 */
const HOST_IS_LITTLE = new Uint8Array(Uint32Array.of(1).buffer)[0] === 1;
/** Bits of the largest coordinate: without the sign, the order of floats is the order of their bits, Inf and NaN on top. */
const MAX_BITS = new Uint32Array(Float32Array.of(MAX_COORDINATE).buffer)[0];

/** Floats copied at a time: small enough to stay in the nearest cache, where checking and widening them costs little. */
const BLOCK = 4096;

/**
 * Reads 3n packed floats from byte `from` into `positions`. False when a value isn't finite or out of range, or this host's byte order
 * is the other one: then read them one by one, which also finds out which vertex it is.
 */
export function readPackedFloats(bytes: Uint8Array, from: number, positions: Float64Array): boolean {
  if (!HOST_IS_LITTLE) return false;
  const block = new Uint8Array(4 * BLOCK);
  for (let start = 0; start < positions.length; start += BLOCK) {
    const length = Math.min(BLOCK, positions.length - start);
    const at = from + 4 * start;
    block.set(bytes.subarray(at, at + 4 * length));
    if (!withinRange(new Uint32Array(block.buffer, 0, length))) return false;
    positions.set(new Float32Array(block.buffer, 0, length), start);
  }
  return true;
}

/**
 * Reads faces from byte `from` for as long as they have three corners, all below `vertexCount`; answers how many those were.
 * At most `data.length / 3`, and 13 bytes for each must be there.
 */
export function readPackedTriangles(view: DataView, from: number, vertexCount: number, data: Uint32Array): number {
  // A whole number by type, or every comparison below is made in floating point.
  const limit = vertexCount >>> 0;
  const end = data.length;
  let at = from;
  for (let i = 0; i < end; i += 3, at += 13) {
    const a = view.getUint32(at + 1, true);
    const b = view.getUint32(at + 5, true);
    const c = view.getUint32(at + 9, true);
    if (view.getUint8(at) !== 3 || a >= limit || b >= limit || c >= limit) return i / 3;
    data[i] = a;
    data[i + 1] = b;
    data[i + 2] = c;
  }
  return data.length / 3;
}

function withinRange(bits: Uint32Array): boolean {
  // Locals: bundlers turn a module's constants into variables, which are then fetched on every turn.
  const signOff = 0x7fffffff;
  const limit = MAX_BITS;
  for (let i = 0; i < bits.length; i++) if ((bits[i] & signOff) > limit) return false;
  return true;
}
