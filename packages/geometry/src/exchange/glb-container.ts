import { InputError, parseJson } from '../numeric/index.ts';
import { decodeAscii } from './ascii-bytes.ts';
import { refuse } from './refuse.ts';

export interface GlbParts {
  /** The JSON chunk, any shape yet. */
  readonly json: JsonObject;
  /** The BIN chunk, empty when there is none. */
  readonly bin: Uint8Array;
  readonly warnings: readonly string[];
}

export type JsonObject = Readonly<Record<string, unknown>>;

const JSON_CHUNK = 0x4e4f534a;
const BIN_CHUNK = 0x004e4942;
const REMEDY = 'The file was cut short or damaged: export it again as GLB.';

/**
 * Takes a GLB file apart (glTF 2.0 binary, ISO/IEC 12113:2022, from memory): 12 bytes of header, then chunks of length, type and
 * content, JSON first, BIN second, others passed over. Every length is checked against the file before anything is read by it.
 * @throws InputError truncated, malformed, unsupported, and what parseJson refuses.
 */
export function openGlb(bytes: Uint8Array): GlbParts {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = checkHeader(view);
  const chunks = readChunks(bytes, view, end);
  const jsonBytes = chunks[0].type === JSON_CHUNK ? chunks[0].content : refuseFirst(chunks[0].type);
  const bin = chunks.length > 1 && chunks[1].type === BIN_CHUNK ? chunks[1].content : new Uint8Array(0);
  const warnings = bytes.length > end ? [`${bytes.length - end} bytes after the end of the GLB were not read.`] : [];
  return { json: parseChunk(jsonBytes, warnings), bin, warnings };
}

function checkHeader(view: DataView): number {
  if (view.byteLength < 20)
    refuse('truncated', 'byte 0', `${view.byteLength} bytes`, 'a GLB header and a chunk', REMEDY);
  const version = view.getUint32(4, true);
  if (version !== 2)
    refuse('unsupported', 'byte 4', `version ${version}`, 'glTF version 2', 'Export it as glTF 2.0 GLB.');
  const length = view.getUint32(8, true);
  if (length > view.byteLength) {
    refuse('truncated', 'byte 8', `${view.byteLength} bytes`, `the ${length} bytes that the header states`, REMEDY);
  }
  if (length < 20) refuse('malformed', 'byte 8', `length ${length}`, 'a length of at least 20', REMEDY);
  return length;
}

interface Chunk {
  readonly type: number;
  readonly content: Uint8Array;
}

function readChunks(bytes: Uint8Array, view: DataView, end: number): Chunk[] {
  const chunks: Chunk[] = [];
  for (let at = 12; at < end && chunks.length < 2; ) {
    const length = at + 8 <= end ? view.getUint32(at, true) : Number.POSITIVE_INFINITY;
    if (length > end - at - 8) {
      refuse('truncated', `byte ${at}`, `a chunk of ${length} bytes`, `a chunk that ends by byte ${end}`, REMEDY);
    }
    if (length % 4 !== 0) refuse('malformed', `byte ${at}`, length, 'a chunk length divisible by 4', REMEDY);
    chunks.push({ type: view.getUint32(at + 4, true), content: bytes.subarray(at + 8, at + 8 + length) });
    at += 8 + length;
  }
  return chunks;
}

/** Padding should be blanks; zeros are met too and do no harm. */
function parseChunk(chunk: Uint8Array, warnings: string[]): JsonObject {
  let end = chunk.length;
  while (end > 0 && chunk[end - 1] === 0) end--;
  if (end < chunk.length) warnings.push('The JSON chunk was padded with zeros instead of blanks.');
  const first = chunk.findIndex((byte) => byte > 32);
  if (chunk[first] !== 0x7b) {
    refuse('malformed', 'byte 20', decodeAscii(chunk.subarray(0, 16)), 'JSON that begins with {', REMEDY);
  }
  try {
    return parseJson(chunk.subarray(0, end)) as JsonObject;
  } catch (error) {
    throw error instanceof InputError ? inChunk(error) : error;
  }
}

/** Says that the line and column are those of the JSON chunk. */
function inChunk({ details }: InputError): InputError {
  const field = details.field === undefined ? 'JSON chunk' : `JSON chunk, ${details.field}`;
  return new InputError({ ...details, field });
}

function refuseFirst(type: number): never {
  return refuse('malformed', 'byte 16', `chunk type 0x${type.toString(16)}`, 'a first chunk of type JSON', REMEDY);
}
