/** A face line in the common form fits in this many bytes: "3", three numbers of at most ten digits, blanks and a line end. */
const LONGEST_LINE = 40;

export interface PackedTextTriangles {
  /** Faces read. */
  readonly faces: number;
  /** Start of the first line that was not read. */
  readonly next: number;
}

/**
 * Kernel for the face lines that nearly every ASCII PLY has: "3 a b c", one blank between, all indices below `vertexCount`. It reads
 * from byte `from`, a line's start, as far as the lines look like that, at most `data.length / 3` of them, and leaves the rest, the
 * file's last line included, to the careful reader. One loop in locals: 3 times as fast as a call for each number.
 */
export function readPackedTextTriangles(
  bytes: Uint8Array,
  from: number,
  vertexCount: number,
  data: Uint32Array,
): PackedTextTriangles {
  const limit = vertexCount >>> 0;
  const end = bytes.length - LONGEST_LINE;
  const total = data.length;
  let i = 0;
  let next = from;
  while (i < total && next < end) {
    let p = next;
    if (bytes[p++] !== 51) break;
    let k = 0;
    for (; k < 3 && bytes[p] === 32; k++) {
      const first = ++p;
      let value = 0;
      let digit = bytes[p] - 48;
      while (digit >= 0 && digit <= 9 && p - first < 10) {
        value = value * 10 + digit;
        digit = bytes[++p] - 48;
      }
      if (p === first || value >= limit) break;
      data[i + k] = value;
    }
    if (k < 3) break;
    if (bytes[p] === 32) p++;
    if (bytes[p] === 13) p++;
    if (bytes[p] !== 10) break;
    next = p + 1;
    i += 3;
  }
  return { faces: i / 3, next };
}
