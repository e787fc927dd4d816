import { decodeAscii } from './ascii-bytes.ts';
import type { GlbDecoders } from './glb-decoders.ts';
import type { MeshFormat, RawMesh, ReadLimits } from './raw-mesh.ts';
import { READ_LIMITS } from './raw-mesh.ts';
import { read3mf } from './read-3mf.ts';
import { readGlb } from './read-glb.ts';
import { readObj } from './read-obj.ts';
import { readPly } from './read-ply.ts';
import { isAsciiStl, readStl } from './read-stl.ts';
import { readXyz } from './read-xyz.ts';
import { bareName, checkSize, namingFile, refuse } from './refuse.ts';
import { hasBinaryStlSize } from './stl-binary.ts';
import { xyzLayout } from './xyz-layout.ts';

const READERS = Object.freeze({
  ply: readPly,
  stl: readStl,
  obj: readObj,
  glb: readGlb,
  '3mf': read3mf,
  xyz: readXyz,
});
const KNOWN = 'PLY, STL, OBJ, GLB, 3MF or points as text';

/** First bytes of files that people try by mistake. */
const FOREIGN: readonly (readonly [string, string])[] = [
  ['%PDF', 'a PDF file'],
  ['\x1f\x8b', 'a gzip archive'],
  ['PK\x05\x06', 'an empty zip archive'],
  ['\xff\xfe', 'text in UTF-16'],
  ['\xfe\xff', 'text in UTF-16'],
];

/**
 * Reads a mesh file or point cloud of any format that we know. The content says which; the name's ending is asked only when the
 * content doesn't, and a wrong ending gives a warning.
 * @param decoders for packed GLB files, those that packedFormats names
 * @returns coordinates as in the file, its own unit and axes; for `kind` 'points' a surface has yet to be made of them.
 * @throws InputError naming the file, the place in it, what was found and what to do.
 */
export function readMesh(
  bytes: Uint8Array,
  fileName: string,
  limits: ReadLimits = READ_LIMITS,
  decoders: GlbDecoders = {},
): RawMesh {
  const ending = endingOf(fileName);
  const format = namingFile(fileName, () => {
    checkSize(bytes, limits);
    return detectFormat(bytes) ?? ending ?? refuseUnknown(bytes);
  });
  const raw = READERS[format](bytes, fileName, limits, decoders);
  if (ending === format) return raw;
  const said = ending === null ? 'does not say so' : `says ${ending.toUpperCase()}`;
  const warning = `${bareName(fileName)} was read as ${format.toUpperCase()} by its content; its name ${said}.`;
  return { ...raw, warnings: [warning, ...raw.warnings] };
}

function detectFormat(bytes: Uint8Array): MeshFormat | null {
  const start = decodeAscii(bytes.subarray(0, 4096));
  if (/^ply[\r\n]/.test(start)) return 'ply';
  if (start.startsWith('glTF')) return 'glb';
  if (start.startsWith('PK\x03\x04')) return '3mf';
  if (hasBinaryStlSize(bytes)) return 'stl';
  for (const [mark, what] of FOREIGN) {
    if (start.startsWith(mark)) refuse('unsupported', 'byte 0', what, KNOWN, 'Export the mesh as PLY.');
  }
  if (/^(\xef\xbb\xbf)?\s*\{/.test(start) && /"(asset|accessors|bufferViews|meshes|scenes)"/.test(start)) {
    const remedy = 'Save it as GLB: one binary file that holds its own data.';
    refuse('unsupported', 'byte 0', 'glTF as JSON text', KNOWN, remedy);
  }
  if (isAsciiStl(bytes)) return 'stl';
  if (looksLikeObj(start)) return 'obj';
  return xyzLayout(bytes) === null ? null : 'xyz';
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
  const ending = /\.(ply|stl|obj|glb|3mf|xyz|csv|txt|asc|pts)$/i.exec(fileName.slice(-8))?.[1].toLowerCase();
  if (ending === undefined) return null;
  return Object.hasOwn(READERS, ending) ? (ending as MeshFormat) : 'xyz';
}

function refuseUnknown(bytes: Uint8Array): never {
  const got = decodeAscii(bytes.subarray(0, 16));
  return refuse('unsupported', 'byte 0', got, `a file of ${KNOWN}`, 'Export the mesh as PLY.');
}
