import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { dracoCounts } from './draco-header.ts';
import type { GlbDecoders, UnpackedMesh } from './glb-decoders.ts';
import { GLB_REMEDY } from './glb-fields.ts';
import { MAX_COORDINATE, type ReadLimits } from './raw-mesh.ts';
import { checkTriangleCount, refuse, refuseCoordinate } from './refuse.ts';

/** What the document states of a packed primitive. */
export interface DracoStated {
  readonly positionId: number;
  readonly vertices: number;
  readonly corners: number;
}

/**
 * Unpacks a primitive of KHR_draco_mesh_compression. Counts of the document and of the packed data have to agree, and are checked
 * before it is unpacked; indices and coordinates after.
 */
export function unpackDraco(
  bytes: Uint8Array,
  stated: DracoStated,
  decode: NonNullable<GlbDecoders['draco']>,
  limits: ReadLimits,
  place: string,
): TriangleMesh {
  const counts = dracoCounts(bytes, place);
  checkTriangleCount(counts.faces, limits, place);
  checkTriangleCount(counts.vertices / 3, limits, place);
  checkCounts(3 * counts.faces, counts.vertices, stated, place, true);
  const unpacked = decodeOrRefuse(bytes, stated.positionId, decode, place);
  const vertices = unpacked.positions.length / 3;
  checkCounts(unpacked.indices.length, vertices, stated, place, false);
  for (const index of unpacked.indices) {
    if (index >= vertices) refuse('out-of-range', place, index, `vertex indices below ${vertices}`, GLB_REMEDY);
  }
  const positions = Float64Array.from(unpacked.positions);
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = positions.subarray(i, i + 3);
    const fits = Math.abs(x) <= MAX_COORDINATE && Math.abs(y) <= MAX_COORDINATE && Math.abs(z) <= MAX_COORDINATE;
    if (!fits) refuseCoordinate(`${place}, vertex ${i / 3}`, x, y, z);
  }
  return { positions, triangles: unpacked.indices };
}

/** Before unpacking, vertices may be fewer than stated: those on seams are doubled then. */
function checkCounts(corners: number, vertices: number, stated: DracoStated, place: string, mayGrow: boolean): void {
  const agrees = corners === stated.corners && (mayGrow ? vertices <= stated.vertices : vertices === stated.vertices);
  if (agrees) return;
  const got = `${corners} corners and ${vertices} vertices packed`;
  refuse('inconsistent', place, got, `${stated.corners} and ${stated.vertices}, as the accessors state`, GLB_REMEDY);
}

function decodeOrRefuse(
  bytes: Uint8Array,
  positionId: number,
  decode: NonNullable<GlbDecoders['draco']>,
  place: string,
): UnpackedMesh {
  try {
    return decode(bytes, positionId);
  } catch (error) {
    const got = error instanceof Error ? error.message : String(error);
    return refuse('malformed', place, got, 'Draco data that can be unpacked', GLB_REMEDY);
  }
}
