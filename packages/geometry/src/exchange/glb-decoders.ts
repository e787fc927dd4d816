import { openGlb } from './glb-container.ts';

export type GlbPacking = 'draco' | 'meshopt';

/** Extensions that pack a mesh, and what unpacks them. */
export const PACKING_OF: Readonly<Record<string, GlbPacking>> = Object.freeze({
  KHR_draco_mesh_compression: 'draco',
  EXT_meshopt_compression: 'meshopt',
  KHR_meshopt_compression: 'meshopt',
});

export interface UnpackedMesh {
  /** 3n coordinates. */
  readonly positions: Float32Array;
  /** Three by triangle. */
  readonly indices: Uint32Array;
}

/**
 * What unpacks GLB files, handed in by the program: the decoders are WebAssembly and loaded only when packedFormats asks for them.
 * They work at once, and throw whatever they like for damaged bytes.
 */
export interface GlbDecoders {
  /** @param positionId unique id of the positions within the Draco mesh */
  readonly draco?: (bytes: Uint8Array, positionId: number) => UnpackedMesh;
  /** Fills `target`, `count` entries of `stride` bytes. */
  readonly meshopt?: (
    target: Uint8Array,
    count: number,
    stride: number,
    bytes: Uint8Array,
    mode: 'ATTRIBUTES' | 'TRIANGLES' | 'INDICES',
    filter: 'NONE' | 'OCTAHEDRAL' | 'QUATERNION' | 'EXPONENTIAL' | 'COLOR',
  ) => void;
}

/** Which decoders a file needs; none for anything but a sound GLB that names them. Reads the JSON chunk only. */
export function packedFormats(bytes: Uint8Array): readonly GlbPacking[] {
  const isGlb = bytes.length > 4 && bytes[0] === 0x67 && bytes[1] === 0x6c && bytes[2] === 0x54 && bytes[3] === 0x46;
  if (!isGlb) return [];
  try {
    const { extensionsUsed, extensionsRequired } = openGlb(bytes).json;
    const named = [extensionsUsed, extensionsRequired].flatMap((list) =>
      Array.isArray(list) ? (list as unknown[]) : [],
    );
    const packings = named.flatMap((name) =>
      typeof name === 'string' && Object.hasOwn(PACKING_OF, name) ? [PACKING_OF[name]] : [],
    );
    return [...new Set(packings)];
  } catch {
    // What is wrong with it is said when it is read.
    return [];
  }
}
