import type { RawMesh, ReadLimits } from './raw-mesh.ts';
import { checkTriangleCount, refuse } from './refuse.ts';
import { StlFacets } from './stl-welded.ts';

export const STL_HEADER_BYTES = 84;
export const STL_FACET_BYTES = 50;
const REMEDY = 'The file was cut off or its facet count is wrong; export the mesh again.';

/** Whether the size is exactly what the count at byte 80 promises: the one reliable sign of a binary STL. */
export function hasBinaryStlSize(bytes: Uint8Array): boolean {
  return bytes.length >= STL_HEADER_BYTES && bytes.length === STL_HEADER_BYTES + STL_FACET_BYTES * facetCount(bytes);
}

/** Binary STL: 80 bytes of header, a count, then normal, three vertices and two bytes for each facet, little-endian. */
export function readBinaryStl(bytes: Uint8Array, limits: ReadLimits): RawMesh {
  if (bytes.length < STL_HEADER_BYTES) {
    refuse('truncated', 'file', `${bytes.length} bytes`, `at least ${STL_HEADER_BYTES} bytes`, REMEDY);
  }
  const count = facetCount(bytes);
  const room = Math.floor((bytes.length - STL_HEADER_BYTES) / STL_FACET_BYTES);
  if (count > room)
    refuse('truncated', 'byte 80', `room for ${room} facets`, `the ${count} facets that it names`, REMEDY);
  checkTriangleCount(count, limits, 'byte 80');
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const facets = new StlFacets(count, limits);
  for (let i = 0; i < count; i++) {
    // The stored normal isn't used: the order of the corners says the same, and exporters get the normal wrong.
    for (let at = STL_HEADER_BYTES + STL_FACET_BYTES * i + 12, k = 0; k < 3; k++, at += 12) {
      facets.addVertex(view.getFloat32(at, true), view.getFloat32(at + 4, true), view.getFloat32(at + 8, true));
    }
  }
  const extra = bytes.length - STL_HEADER_BYTES - STL_FACET_BYTES * count;
  return facets.finish(extra > 0 ? [`${extra} bytes after the last facet were not read.`] : []);
}

function facetCount(bytes: Uint8Array): number {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getUint32(80, true);
}
