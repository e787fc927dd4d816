import {
  type DracoModule,
  dracoDecoder,
  type GlbDecoders,
  packedFormats,
  type RawMesh,
  READ_LIMITS,
  readMesh,
} from '@barwright/geometry';
import type { InputFile } from './input-file.ts';

/** Reads a mesh or cloud of any format; decoders of packed GLB files are loaded only for those. */
export async function readMeshFile({ bytes, file }: Pick<InputFile, 'bytes' | 'file'>): Promise<RawMesh> {
  return readMesh(bytes, file, READ_LIMITS, await loadDecoders(bytes));
}

/** The decoders that a file needs, each with its own wasm from its package. */
export async function loadDecoders(bytes: Uint8Array): Promise<GlbDecoders> {
  const needed = packedFormats(bytes);
  return {
    ...(needed.includes('draco') ? { draco: await loadDraco() } : {}),
    ...(needed.includes('meshopt') ? { meshopt: await loadMeshopt() } : {}),
  };
}

async function loadDraco(): Promise<NonNullable<GlbDecoders['draco']>> {
  const { default: draco } = await import('draco3d');
  return dracoDecoder((await draco.createDecoderModule({})) as unknown as DracoModule);
}

async function loadMeshopt(): Promise<NonNullable<GlbDecoders['meshopt']>> {
  const { MeshoptDecoder } = await import('meshoptimizer/decoder');
  await MeshoptDecoder.ready;
  return MeshoptDecoder.decodeGltfBuffer;
}
