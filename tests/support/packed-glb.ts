import draco3d from 'draco3d';
import { writeGlb } from '../../packages/geometry/src/exchange/glb.fixture.ts';

type Json = Record<string, unknown>;

/** Positions in single precision and triangles, packed by Draco as its encoder writes them. */
export async function createDracoPacker(): Promise<
  (positions: Float32Array, triangles: Uint32Array, bits: number, sequential?: boolean) => Uint8Array
> {
  const module = await draco3d.createEncoderModule({});
  return (positions, triangles, bits, sequential = false) => {
    const [encoder, builder, mesh] = [new module.Encoder(), new module.MeshBuilder(), new module.Mesh()];
    builder.AddFacesToMesh(mesh, triangles.length / 3, triangles);
    builder.AddFloatAttribute(mesh, module.POSITION, positions.length / 3, 3, positions);
    encoder.SetAttributeQuantization(module.POSITION, bits);
    encoder.SetEncodingMethod(sequential ? module.MESH_SEQUENTIAL_ENCODING : module.MESH_EDGEBREAKER_ENCODING);
    const out = new module.DracoInt8Array();
    const length = encoder.EncodeMeshToDracoBuffer(mesh, out);
    return Uint8Array.from({ length }, (_, i) => out.GetValue(i) & 255);
  };
}

/** A GLB file of one Draco mesh. */
export function dracoGlb(packed: Uint8Array, vertices: number, corners: number, changes: Json = {}): Uint8Array {
  const extension = { bufferView: 0, attributes: { POSITION: 0 } };
  const primitive = {
    ...{ attributes: { POSITION: 0 }, indices: 1 },
    extensions: { KHR_draco_mesh_compression: extension },
  };
  const json = {
    asset: { version: '2.0' },
    extensionsUsed: ['KHR_draco_mesh_compression'],
    extensionsRequired: ['KHR_draco_mesh_compression'],
    nodes: [{ mesh: 0 }],
    meshes: [{ primitives: [primitive] }],
    accessors: [
      { componentType: 5126, count: vertices, type: 'VEC3' },
      { componentType: 5125, count: corners, type: 'SCALAR' },
    ],
    bufferViews: [{ buffer: 0, byteLength: packed.length }],
    buffers: [{ byteLength: packed.length }],
    ...changes,
  };
  return writeGlb(json, padded(packed));
}

export const padded = (bytes: Uint8Array): Uint8Array => {
  const out = new Uint8Array(4 * Math.ceil(bytes.length / 4));
  out.set(bytes);
  return out;
};

/** A view of a meshopt file before it is put together. */
export interface Part {
  readonly bytes: Uint8Array;
  readonly count: number;
  readonly stride: number;
  readonly mode: string;
}

/** A GLB file of one mesh packed by meshopt: attributes, then triangles. */
export function meshoptGlb(parts: readonly Part[], name: string, accessors: Json[], changes: Json = {}): Uint8Array {
  const bin = padded(Uint8Array.from(parts.flatMap(({ bytes }) => [...padded(bytes)])));
  let at = 0;
  const bufferViews = parts.map(({ bytes, count, stride, mode }) => {
    const packed = { buffer: 0, byteOffset: at, byteLength: bytes.length, byteStride: stride, count, mode };
    at += 4 * Math.ceil(bytes.length / 4);
    return {
      buffer: 1,
      byteLength: count * stride,
      byteStride: mode === 'ATTRIBUTES' ? stride : undefined,
      extensions: { [name]: packed },
    };
  });
  const total = parts.reduce((sum, { count, stride }) => sum + count * stride, 0);
  return writeGlb(
    {
      asset: { version: '2.0' },
      extensionsUsed: [name],
      extensionsRequired: [name],
      nodes: [{ mesh: 0 }],
      meshes: [{ primitives: [{ attributes: { POSITION: 0 }, indices: 1 }] }],
      accessors,
      bufferViews,
      buffers: [{ byteLength: bin.length }, { byteLength: total, extensions: { [name]: { fallback: true } } }],
      ...changes,
    },
    bin,
  );
}
