import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { encodeAscii, oneLine } from './ascii-bytes.ts';
import { checkMesh } from './check-mesh.ts';
import { STL_FACET_BYTES, STL_HEADER_BYTES } from './stl-binary.ts';

export interface WriteStlOptions {
  /** Follows the unit in the 80 bytes of header; cut off there. */
  readonly comment?: string;
}

/**
 * Writes a mesh in millimetres as binary STL with its real normals; the same mesh always gives the same bytes.
 * The header never begins with "solid", so no reader takes it for text. A facet without area has the normal 0 0 0.
 * @throws InputError for a mesh without triangles, with coordinates that aren't finite or indices out of range.
 */
export function writeStl(mesh: TriangleMesh, options: WriteStlOptions = {}): Uint8Array {
  checkMesh(mesh);
  const count = mesh.triangles.length / 3;
  const bytes = new Uint8Array(STL_HEADER_BYTES + STL_FACET_BYTES * count);
  const view = new DataView(bytes.buffer);
  const header = `Binary STL, unit millimetres. ${oneLine(options.comment ?? '')}`.trimEnd();
  bytes.set(encodeAscii(header.slice(0, 80)));
  view.setUint32(80, count, true);
  const facet = new Float32Array(12);
  for (let i = 0; i < count; i++) {
    fillFacet(mesh, i, facet);
    for (let k = 0; k < 12; k++) view.setFloat32(STL_HEADER_BYTES + STL_FACET_BYTES * i + 4 * k, facet[k], true);
  }
  return bytes;
}

/** Normal and three corners, in that order. */
function fillFacet({ positions, triangles }: TriangleMesh, i: number, facet: Float32Array): void {
  for (let k = 0; k < 3; k++) {
    const at = 3 * triangles[3 * i + k];
    for (let axis = 0; axis < 3; axis++) facet[3 + 3 * k + axis] = positions[at + axis];
  }
  const [a, b, c] = [0, 1, 2].map((k) => 3 * triangles[3 * i + k]);
  const u = [0, 1, 2].map((k) => positions[b + k] - positions[a + k]);
  const v = [0, 1, 2].map((k) => positions[c + k] - positions[a + k]);
  const normal = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const length = Math.hypot(...normal);
  for (let k = 0; k < 3; k++) facet[k] = length > 0 ? normal[k] / length : 0;
}
