import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { encodeAscii, oneLine } from './ascii-bytes.ts';
import { checkMesh } from './check-mesh.ts';

export interface WritePlyOptions {
  /** One line for the header; characters beyond ASCII become "?". */
  readonly comment?: string;
  /** Text instead of little-endian binary. */
  readonly ascii?: boolean;
}

/**
 * Writes a mesh in millimetres as PLY with single-precision coordinates; the same mesh always gives the same bytes.
 * ASCII numbers are the shortest that give the same single-precision value back.
 * @throws InputError for a mesh without triangles, with coordinates that aren't finite or indices out of range.
 */
export function writePly(mesh: TriangleMesh, options: WritePlyOptions = {}): Uint8Array {
  checkMesh(mesh);
  return options.ascii === true ? writeText(mesh, options) : writeBinary(mesh, options);
}

function header(mesh: TriangleMesh, { comment, ascii }: WritePlyOptions): string {
  return [
    'ply',
    `format ${ascii === true ? 'ascii' : 'binary_little_endian'} 1.0`,
    'comment units millimetres',
    ...(comment === undefined ? [] : [`comment ${oneLine(comment)}`]),
    `element vertex ${mesh.positions.length / 3}`,
    'property float x',
    'property float y',
    'property float z',
    `element face ${mesh.triangles.length / 3}`,
    'property list uchar int vertex_indices',
    'end_header',
    '',
  ].join('\n');
}

function writeBinary(mesh: TriangleMesh, options: WritePlyOptions): Uint8Array {
  const { positions, triangles } = mesh;
  const head = encodeAscii(header(mesh, options));
  const bytes = new Uint8Array(head.length + 4 * positions.length + 13 * (triangles.length / 3));
  const view = new DataView(bytes.buffer);
  bytes.set(head);
  let at = head.length;
  for (let i = 0; i < positions.length; i++, at += 4) view.setFloat32(at, positions[i], true);
  for (let i = 0; i < triangles.length; i += 3, at += 13) {
    view.setUint8(at, 3);
    for (let k = 0; k < 3; k++) view.setUint32(at + 1 + 4 * k, triangles[i + k], true);
  }
  return bytes;
}

function writeText(mesh: TriangleMesh, options: WritePlyOptions): Uint8Array {
  const { positions: p, triangles: t } = mesh;
  const lines: string[] = [header(mesh, options).trimEnd()];
  for (let i = 0; i < p.length; i += 3) lines.push(`${shortest(p[i])} ${shortest(p[i + 1])} ${shortest(p[i + 2])}`);
  for (let i = 0; i < t.length; i += 3) lines.push(`3 ${t[i]} ${t[i + 1]} ${t[i + 2]}`);
  return encodeAscii(`${lines.join('\n')}\n`);
}

/** At most nine significant digits: enough for every single-precision value (IEEE 754). */
function shortest(value: number): string {
  const single = Math.fround(value);
  for (let digits = 6; digits < 9; digits++) {
    const text = Number(single.toPrecision(digits));
    if (Math.fround(text) === single) return String(text);
  }
  return String(Number(single.toPrecision(9)));
}
