import { type DracoModule, dracoDecoder, type GlbDecoders, packedFormats } from '@barwright/geometry';
import { REFUSAL_TEXTS } from '../look/texts/refusals.ts';

/** The decoders that a packed GLB file needs, loaded with their wasm from the bench's own files; nothing for any other file. */
export async function loadDecoders(bytes: Uint8Array): Promise<GlbDecoders> {
  const needed = packedFormats(bytes);
  return {
    ...(needed.includes('draco') ? { draco: await loadDraco() } : {}),
    ...(needed.includes('meshopt') ? { meshopt: await loadMeshopt() } : {}),
  };
}

type CreateDraco = (options: { readonly wasmBinary: ArrayBuffer }) => Promise<DracoModule>;

async function loadDraco(): Promise<NonNullable<GlbDecoders['draco']>> {
  const [code, wasm] = await Promise.all([
    import('draco3d/draco_decoder_nodejs.js'),
    import('draco3d/draco_decoder.wasm?url'),
  ]);
  const create = code.default as unknown as CreateDraco;
  const answer = await fetch(wasm.default);
  if (!answer.ok) throw new Error(REFUSAL_TEXTS.noDecoder(answer.status));
  return dracoDecoder(await create({ wasmBinary: await answer.arrayBuffer() }));
}

async function loadMeshopt(): Promise<NonNullable<GlbDecoders['meshopt']>> {
  const { MeshoptDecoder } = await import('meshoptimizer/decoder');
  await MeshoptDecoder.ready;
  return MeshoptDecoder.decodeGltfBuffer;
}
