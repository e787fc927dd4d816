import type { TriangleMesh } from '../surface/triangle-mesh.ts';

/** The scan of the examples: binary little-endian PLY with float x y z and triangles as uchar-int lists. */
export function readPlainPly(bytes: Uint8Array): TriangleMesh {
  const end = 'end_header\n';
  const opening = String.fromCharCode(...bytes.subarray(0, 2000));
  const body = opening.indexOf(end) + end.length;
  const head = opening.slice(0, body);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const count = (what: string) => Number(new RegExp(`element ${what} (\\d+)`).exec(head)![1]);
  const positions = Float64Array.from({ length: 3 * count('vertex') }, (_, k) => view.getFloat32(body + 4 * k, true));
  const start = body + 4 * positions.length;
  const triangles = Uint32Array.from({ length: 3 * count('face') }, (_, k) =>
    view.getInt32(start + 13 * Math.floor(k / 3) + 1 + 4 * (k % 3), true),
  );
  return { positions, triangles };
}
