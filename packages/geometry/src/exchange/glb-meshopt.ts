import type { JsonObject } from './glb-container.ts';
import type { GlbDecoders } from './glb-decoders.ts';
import { GLB_REMEDY, objectAt, wholeAt } from './glb-fields.ts';
import { refuse } from './refuse.ts';

const NAMES = ['KHR_meshopt_compression', 'EXT_meshopt_compression'];
const MODES = ['ATTRIBUTES', 'TRIANGLES', 'INDICES'] as const;
const FILTERS = ['NONE', 'OCTAHEDRAL', 'QUATERNION', 'EXPONENTIAL', 'COLOR'] as const;
/** Nothing that a scan needs unpacks to more. */
const MOST_BYTES = 2 ** 29;

/** The packed form of a buffer view, or null for a plain one. */
export function meshoptOf(bufferView: JsonObject, place: string): JsonObject | null {
  if (bufferView.extensions === undefined) return null;
  const extensions = objectAt(bufferView.extensions, `${place} extensions`);
  const name = NAMES.find((key) => Object.hasOwn(extensions, key));
  return name === undefined ? null : objectAt(extensions[name], `${place} ${name}`);
}

/**
 * Unpacks a buffer view of EXT_ or KHR_meshopt_compression. What it says of its size is checked against itself, the view and the packed
 * bytes before memory is taken: an index takes at least a third of a byte in mode TRIANGLES, and one byte in mode INDICES.
 */
export function unpackMeshopt(
  packed: JsonObject,
  bufferView: JsonObject,
  bytes: Uint8Array,
  decode: NonNullable<GlbDecoders['meshopt']>,
  place: string,
): Uint8Array {
  const count = wholeAt(packed, 'count', place, 1);
  const stride = wholeAt(packed, 'byteStride', place, 1);
  const mode = MODES.find((name) => name === packed.mode);
  const filter = FILTERS.find((name) => name === (packed.filter ?? 'NONE'));
  if (mode === undefined || filter === undefined) {
    const got = `mode ${String(packed.mode)}, filter ${String(packed.filter)}`;
    return refuse('unsupported', place, got, `mode ${MODES.join(', ')} and a known filter`, GLB_REMEDY);
  }
  const fits = mode === 'ATTRIBUTES' ? stride % 4 === 0 && stride <= 256 : stride === 2 || stride === 4;
  if (!fits) refuse('out-of-range', place, `byteStride ${stride}`, `a byteStride that mode ${mode} has`, GLB_REMEDY);
  const length = count * stride;
  if (length > MOST_BYTES) refuse('too-large', place, `${length} bytes`, `at most ${MOST_BYTES} bytes`, GLB_REMEDY);
  if (wholeAt(bufferView, 'byteLength', place, 1) !== length) {
    refuse('inconsistent', place, `${count} entries of ${stride} bytes`, "the view's own byteLength", GLB_REMEDY);
  }
  const least = mode === 'TRIANGLES' ? count / 3 : mode === 'INDICES' ? count : stride;
  if (bytes.length < least) {
    refuse('truncated', place, `${bytes.length} packed bytes`, `bytes for ${count} entries`, GLB_REMEDY);
  }
  const target = new Uint8Array(length);
  try {
    decode(target, count, stride, bytes, mode, filter);
  } catch (error) {
    const got = error instanceof Error ? error.message : String(error);
    refuse('malformed', place, got, 'meshopt data that can be unpacked', GLB_REMEDY);
  }
  return target;
}
