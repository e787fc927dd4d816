import { decodeAscii } from './ascii-bytes.ts';
import type { MeshFormat, RawMesh, ReadLimits } from './raw-mesh.ts';
import { READ_LIMITS } from './raw-mesh.ts';
import { readObj } from './read-obj.ts';
import { readPly } from './read-ply.ts';
import { isAsciiStl, readStl } from './read-stl.ts';
import { bareName, checkSize, namingFile, refuse } from './refuse.ts';
import { hasBinaryStlSize } from './stl-binary.ts';

const READERS = Object.freeze({ ply: readPly, stl: readStl, obj: readObj });

/** First bytes of files that people try by mistake. */
const FOREIGN: readonly (readonly [string, string])[] = [
  ['glTF', 'a GLB file'],
  ['PK\x03\x04', 'a zip archive (3MF is one)'],
  ['%PDF', 'a PDF file'],
  ['\x1f\x8b', 'a gzip archive'],
  ['\xff\xfe', 'text in UTF-16'],
  ['\xfe\xff', 'text in UTF-16'],
];

/**
 * Reads a mesh file of any format that we know. The content says which; the name's ending is asked only when the content doesn't,
 * and a wrong ending gives a warning.
 * @returns coordinates exactly as in the file, its own unit and axes.
 * @throws InputError naming the file, the place in it, what was found and what to do.
 */
export function readMesh(bytes: Uint8Array, fileName: string, limits: ReadLimits = READ_LIMITS): RawMesh {
  const ending = endingOf(fileName);
  const format = namingFile(fileName, () => {
    checkSize(bytes, limits);
    return detectFormat(bytes) ?? ending ?? refuseUnknown(bytes);
  });
  const raw = READERS[format](bytes, fileName, limits);
  if (ending === format) return raw;
  const said = ending === null ? 'does not say so' : `says ${ending.toUpperCase()}`;
  const warning = `${bareName(fileName)} was read as ${format.toUpperCase()} by its content; its name ${said}.`;
  return { ...raw, warnings: [warning, ...raw.warnings] };
}

function detectFormat(bytes: Uint8Array): MeshFormat | null {
  const start = decodeAscii(bytes.subarray(0, 4096));
  if (/^ply[\r\n]/.test(start)) return 'ply';
  if (hasBinaryStlSize(bytes)) return 'stl';
  for (const [mark, what] of FOREIGN) {
    if (start.startsWith(mark)) refuse('unsupported', 'byte 0', what, 'PLY, STL or OBJ', 'Export the mesh as PLY.');
  }
  if (isAsciiStl(bytes)) return 'stl';
  return looksLikeObj(start) ? 'obj' : null;
}

/** The first line that isn't a comment is one that OBJ files begin with, and no byte is zero. */
function looksLikeObj(start: string): boolean {
  if (start.includes('\0')) return false;
  const line = start
    .replace(/^\xef\xbb\xbf/, '')
    .split(/[\r\n]+/)
    .find((text) => text.trim() !== '' && !text.trimStart().startsWith('#'));
  return line !== undefined && /^\s*(v|vn|vt|o|g|s|f|mtllib|usemtl)\s+\S/.test(line);
}

function endingOf(fileName: string): MeshFormat | null {
  const ending = /\.(ply|stl|obj)$/i.exec(fileName.slice(-8));
  return ending === null ? null : (ending[1].toLowerCase() as MeshFormat);
}

function refuseUnknown(bytes: Uint8Array): never {
  const got = decodeAscii(bytes.subarray(0, 16));
  return refuse('unsupported', 'byte 0', got, 'a PLY, STL or OBJ file', 'Export the mesh as PLY.');
}
