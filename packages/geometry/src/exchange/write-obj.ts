import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { encodeAscii, oneLine } from './ascii-bytes.ts';
import { checkMesh } from './check-mesh.ts';

export interface WriteObjOptions {
  /** One line at the top; characters beyond ASCII become "?". */
  readonly comment?: string;
}

/**
 * Writes a mesh in millimetres as OBJ, coordinates in full precision; the same mesh always gives the same bytes.
 * @throws InputError for a mesh without triangles, with coordinates that aren't finite or indices out of range.
 */
export function writeObj(mesh: TriangleMesh, options: WriteObjOptions = {}): Uint8Array {
  checkMesh(mesh);
  const { positions: p, triangles: t } = mesh;
  const lines = ['# unit millimetres'];
  if (options.comment !== undefined) lines.push(`# ${oneLine(options.comment)}`);
  for (let i = 0; i < p.length; i += 3) lines.push(`v ${p[i]} ${p[i + 1]} ${p[i + 2]}`);
  for (let i = 0; i < t.length; i += 3) lines.push(`f ${t[i] + 1} ${t[i + 1] + 1} ${t[i + 2] + 1}`);
  return encodeAscii(`${lines.join('\n')}\n`);
}
