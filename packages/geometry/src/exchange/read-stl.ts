import { decodeAscii } from './ascii-bytes.ts';
import { type RawMesh, READ_LIMITS, type ReadLimits } from './raw-mesh.ts';
import { checkSize, namingFile } from './refuse.ts';
import { readAsciiStl } from './stl-ascii.ts';
import { hasBinaryStlSize, readBinaryStl } from './stl-binary.ts';

/**
 * Reads an STL file (3D Systems 1988, from memory), binary or ASCII. A file whose size fits its count is binary, whatever its
 * header begins with. Identical vertices become one; stored normals are not used.
 * @returns coordinates exactly as in the file, its own unit and axes (STL names neither).
 * @throws InputError for anything damaged, promised but absent, not finite, or over the limits.
 */
export function readStl(bytes: Uint8Array, fileName: string, limits: ReadLimits = READ_LIMITS): RawMesh {
  return namingFile(fileName, () => {
    checkSize(bytes, limits);
    return isAsciiStl(bytes) ? readAsciiStl(bytes, limits) : readBinaryStl(bytes, limits);
  });
}

/** Text that begins with "solid", in a file whose size isn't that of a binary STL. */
export function isAsciiStl(bytes: Uint8Array): boolean {
  const start = bytes.subarray(0, 512);
  return !hasBinaryStlSize(bytes) && !start.includes(0) && /^(\xef\xbb\xbf)?\s*solid(\s|$)/i.test(decodeAscii(start));
}
