import type { GlbDecoders } from './glb-decoders.ts';

interface Attribute {
  num_components(): number;
}

interface DracoMesh {
  num_faces(): number;
  num_points(): number;
}

interface Decoder {
  DecodeBufferToMesh(buffer: unknown, mesh: DracoMesh): { ok(): boolean; error_msg(): string };
  GetAttributeByUniqueId(mesh: DracoMesh, id: number): Attribute;
  GetTrianglesUInt32Array(mesh: DracoMesh, byteLength: number, at: number): unknown;
  GetAttributeDataArrayForAllPoints(
    mesh: DracoMesh,
    attribute: Attribute,
    type: unknown,
    byteLength: number,
    at: number,
  ): unknown;
}

/** The parts that are used of Draco's decoder module. */
export interface DracoModule {
  readonly Decoder: new () => Decoder;
  readonly DecoderBuffer: new () => { Init(bytes: Int8Array, length: number): void };
  readonly Mesh: new () => DracoMesh;
  readonly DT_FLOAT32: unknown;
  readonly HEAPU8: Uint8Array;
  _malloc(bytes: number): number;
  _free(at: number): void;
  destroy(thing: unknown): void;
}

/** Unpacks by a loaded Draco module; everything that it holds is given back, whatever happens. */
export function dracoDecoder(draco: DracoModule): NonNullable<GlbDecoders['draco']> {
  return (bytes, positionId) => {
    const held: unknown[] = [];
    const keep = <T>(thing: T): T => {
      held.push(thing);
      return thing;
    };
    try {
      const decoder = keep(new draco.Decoder());
      const buffer = keep(new draco.DecoderBuffer());
      buffer.Init(new Int8Array(bytes.buffer, bytes.byteOffset, bytes.length), bytes.length);
      const mesh = keep(new draco.Mesh());
      const status = decoder.DecodeBufferToMesh(buffer, mesh);
      if (!status.ok()) throw new Error(status.error_msg());
      const attribute = decoder.GetAttributeByUniqueId(mesh, positionId);
      if (isNull(attribute) || attribute.num_components() !== 3) throw new Error(`no positions under id ${positionId}`);
      const indices = copied(draco, 12 * mesh.num_faces(), (length, at) =>
        decoder.GetTrianglesUInt32Array(mesh, length, at),
      );
      const positions = copied(draco, 12 * mesh.num_points(), (length, at) =>
        decoder.GetAttributeDataArrayForAllPoints(mesh, attribute, draco.DT_FLOAT32, length, at),
      );
      return { positions: new Float32Array(positions.buffer), indices: new Uint32Array(indices.buffer) };
    } finally {
      for (const thing of held.reverse()) draco.destroy(thing);
    }
  };
}

/** Emscripten wraps a null pointer in an object whose `ptr` is 0. */
const isNull = (thing: object | null): boolean => thing === null || ('ptr' in thing && thing.ptr === 0);

function copied(draco: DracoModule, length: number, fill: (length: number, at: number) => unknown): Uint8Array {
  const at = draco._malloc(length);
  try {
    fill(length, at);
    // Asked for anew: the heap is another one after it has grown.
    return draco.HEAPU8.slice(at, at + length);
  } finally {
    draco._free(at);
  }
}
