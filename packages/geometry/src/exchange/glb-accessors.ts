import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { GlbParts, JsonObject } from './glb-container.ts';
import type { GlbDecoders } from './glb-decoders.ts';
import { type DracoStated, unpackDraco } from './glb-draco.ts';
import { entryAt, GLB_REMEDY, listOf, objectAt, PACKED_REMEDY, wholeAt } from './glb-fields.ts';
import { meshoptOf, unpackMeshopt } from './glb-meshopt.ts';
import { MAX_COORDINATE, type ReadLimits } from './raw-mesh.ts';
import { checkTriangleCount, refuse, refuseCoordinate } from './refuse.ts';

const FLOAT = 5126;
const BYTES: Readonly<Record<number, number>> = Object.freeze({
  5120: 1,
  5121: 1,
  5122: 2,
  5123: 2,
  5125: 4,
  [FLOAT]: 4,
});
/** Bytes and shorts that stand for coordinates (KHR_mesh_quantization), and what a normalised one is divided by. */
const QUANTISED: Readonly<Record<number, number>> = Object.freeze({ 5120: 127, 5121: 255, 5122: 32767, 5123: 65535 });
const INDEX_TYPES = [5121, 5123, 5125];
/** All packed views of a file together, unpacked. */
const MOST_UNPACKED = 2 ** 30;
/** Positions that no bytes of the file stand behind: all zeros but for sparse ones. */
const MOST_UNBACKED = 1_000_000;

/** Where one column of numbers lies in the BIN chunk or an unpacked view, checked to lie inside it. */
interface Column {
  readonly view: DataView;
  readonly at: number;
  readonly stride: number;
  readonly componentType: number;
}

interface HeldView {
  readonly bytes: Uint8Array;
  readonly byteOffset: number;
  readonly byteLength: number;
}

/** Reads positions and indices from the BIN chunk; counts and places are checked against it before memory is taken. */
export class GlbAccessors {
  readonly #bin: Uint8Array;
  readonly #accessors: readonly JsonObject[];
  readonly #views: readonly JsonObject[];
  readonly #buffers: readonly JsonObject[];
  readonly #limits: ReadLimits;

  readonly #decoders: GlbDecoders;
  readonly #isQuantised: boolean;
  readonly #unpacked = new Map<JsonObject, Uint8Array>();
  #unpackedBytes = 0;

  constructor({ json, bin }: GlbParts, limits: ReadLimits, decoders: GlbDecoders = {}) {
    this.#bin = bin;
    this.#limits = limits;
    this.#decoders = decoders;
    const required = json.extensionsRequired;
    this.#isQuantised = Array.isArray(required) && required.includes('KHR_mesh_quantization');
    this.#accessors = listOf(json, 'accessors', '');
    this.#views = listOf(json, 'bufferViews', '');
    this.#buffers = listOf(json, 'buffers', '');
  }

  /** 3n coordinates of the accessor that `owner[key]` names. */
  positions(owner: JsonObject, key: string, place: string): Float64Array {
    const accessor = entryAt(this.#accessors, owner, key, place);
    const types = this.#isQuantised ? [FLOAT, ...Object.keys(QUANTISED).map(Number)] : [FLOAT];
    const count = this.#checkKind(accessor, 'VEC3', types, place);
    const type = accessor.componentType as number;
    if (type !== FLOAT && accessor.sparse !== undefined) {
      refuse('unsupported', place, 'sparse values in steps', 'plain or float positions', GLB_REMEDY);
    }
    const column = this.#column(accessor, count, 3 * BYTES[type], type, place);
    if (column === null) this.#checkUnbacked(accessor, count, place);
    const out = new Float64Array(3 * count);
    if (column !== null) for (let i = 0; i < count; i++) readPoint(column, i, out, i);
    if (accessor.normalized === true) normalise(out, type);
    if (accessor.sparse !== undefined) this.#readSparse(objectAt(accessor.sparse, place), out, place);
    for (let i = 0; i < out.length; i += 3) {
      const fits =
        Math.abs(out[i]) <= MAX_COORDINATE &&
        Math.abs(out[i + 1]) <= MAX_COORDINATE &&
        Math.abs(out[i + 2]) <= MAX_COORDINATE;
      if (!fits) refuseCoordinate(`${place}, vertex ${i / 3}`, out[i], out[i + 1], out[i + 2]);
    }
    return out;
  }

  /** Whole numbers of one, two or four bytes, each below `vertices`. */
  indices(owner: JsonObject, key: string, place: string, vertices: number): Uint32Array {
    const accessor = entryAt(this.#accessors, owner, key, place);
    const count = this.#checkKind(accessor, 'SCALAR', INDEX_TYPES, place);
    if (accessor.sparse !== undefined) refuse('unsupported', place, 'sparse indices', 'plain indices', GLB_REMEDY);
    const type = wholeAt(accessor, 'componentType', place);
    const column = this.#column(accessor, count, BYTES[type], type, place);
    if (column === null) return refuse('missing', place, 'indices without a bufferView', 'stored indices', GLB_REMEDY);
    return readIndices(column, count, vertices, place);
  }

  get unpacksDraco(): boolean {
    return this.#decoders.draco !== undefined;
  }

  /** A primitive's packed mesh; `counts` are those of its accessors. */
  draco(packed: JsonObject, stated: DracoStated, place: string): TriangleMesh {
    const decode = this.#decoders.draco;
    if (decode === undefined) return refuse('unsupported', place, 'Draco', 'a decoder for it', PACKED_REMEDY);
    const bufferView = entryAt(this.#views, packed, 'bufferView', place);
    const { bytes, byteOffset, byteLength } = this.#checkView(bufferView, place);
    return unpackDraco(bytes.subarray(byteOffset, byteOffset + byteLength), stated, decode, this.#limits, place);
  }

  /** How many entries an accessor states, by which a packed mesh is measured. */
  count(owner: JsonObject, key: string, type: string, place: string): number {
    const components = type === 'VEC3' ? [FLOAT] : INDEX_TYPES;
    return this.#checkKind(entryAt(this.#accessors, owner, key, place), type, components, place);
  }

  #checkKind(accessor: JsonObject, type: string, components: readonly number[], place: string): number {
    const got = accessor.componentType;
    const mayNormalise = type === 'VEC3' && got !== FLOAT;
    const isOdd = accessor.normalized === true && !mayNormalise;
    if (accessor.type !== type || !components.includes(got as number) || isOdd) {
      const found = `${String(accessor.type)} of component type ${String(got)}`;
      refuse('unsupported', place, found, `${type} of component type ${components.join(', ')}`, GLB_REMEDY);
    }
    const count = wholeAt(accessor, 'count', place, 1);
    checkTriangleCount(count / 3, this.#limits, place);
    return count;
  }

  #checkUnbacked(accessor: JsonObject, count: number, place: string): void {
    if (accessor.sparse === undefined) {
      refuse('missing', place, 'positions without a bufferView', 'stored positions', GLB_REMEDY);
    }
    if (count <= MOST_UNBACKED) return;
    refuse('too-large', place, count, `at most ${MOST_UNBACKED} positions that are not stored`, GLB_REMEDY);
  }

  #column(owner: JsonObject, count: number, size: number, componentType: number, place: string): Column | null {
    if (owner.bufferView === undefined) return null;
    const bufferView = entryAt(this.#views, owner, 'bufferView', place);
    const held = this.#viewOf(bufferView, place);
    const stride = wholeAt(bufferView, 'byteStride', place, 4, Math.max(4, size));
    const step = bufferView.byteStride === undefined ? size : stride;
    const offset = wholeAt(owner, 'byteOffset', place, 0, 0);
    if (step < size || step > 252) refuse('out-of-range', place, step, `a byteStride from ${size} to 252`, GLB_REMEDY);
    const needed = offset + step * (count - 1) + size;
    if (needed > held.byteLength) {
      refuse('truncated', place, `${held.byteLength} bytes`, `${needed} bytes for ${count} entries`, GLB_REMEDY);
    }
    const view = new DataView(held.bytes.buffer, held.bytes.byteOffset, held.bytes.byteLength);
    return { view, at: held.byteOffset + offset, stride: step, componentType };
  }

  /** A view as it is stored, or unpacked once and kept. */
  #viewOf(bufferView: JsonObject, place: string): HeldView {
    const packed = meshoptOf(bufferView, place);
    const decode = this.#decoders.meshopt;
    if (packed === null || decode === undefined) return this.#checkView(bufferView, place);
    const known = this.#unpacked.get(bufferView);
    if (known !== undefined) return { bytes: known, byteOffset: 0, byteLength: known.length };
    const { bytes, byteOffset, byteLength } = this.#checkView(packed, place);
    this.#unpackedBytes += wholeAt(bufferView, 'byteLength', place, 1);
    if (this.#unpackedBytes > MOST_UNPACKED) {
      refuse('too-large', place, `${this.#unpackedBytes} bytes`, `at most ${MOST_UNPACKED} unpacked`, GLB_REMEDY);
    }
    const plain = unpackMeshopt(packed, bufferView, bytes.subarray(byteOffset, byteOffset + byteLength), decode, place);
    this.#unpacked.set(bufferView, plain);
    return { bytes: plain, byteOffset: 0, byteLength: plain.length };
  }

  #checkView(bufferView: JsonObject, place: string): HeldView {
    const buffer = entryAt(this.#buffers, bufferView, 'buffer', place);
    this.#checkOwnBuffer(buffer, place);
    const byteOffset = wholeAt(bufferView, 'byteOffset', place, 0, 0);
    const byteLength = wholeAt(bufferView, 'byteLength', place, 1);
    const room = Math.min(this.#bin.length, wholeAt(buffer, 'byteLength', place, 1));
    if (byteOffset + byteLength > room) {
      const got = `bytes ${byteOffset} to ${byteOffset + byteLength}`;
      refuse('truncated', place, got, `bytes within the ${room} of the BIN chunk`, GLB_REMEDY);
    }
    return { bytes: this.#bin, byteOffset, byteLength };
  }

  /** Only the file's own BIN chunk is read: nothing is fetched and no folder is looked into. */
  #checkOwnBuffer(buffer: JsonObject, place: string): void {
    const { uri } = buffer;
    const remedy = 'Save it as one GLB file that holds its own data.';
    if (typeof uri === 'string' && uri.startsWith('data:')) {
      refuse('unsupported', place, 'a data: address', 'data in the BIN chunk', remedy);
    }
    if (uri !== undefined) refuse('path', place, uri, 'data in the BIN chunk, not in another file', remedy);
    if (buffer !== this.#buffers[0]) refuse('missing', place, 'a second buffer', 'data in the BIN chunk', remedy);
  }

  #readSparse(sparse: JsonObject, out: Float64Array, place: string): void {
    const vertices = out.length / 3;
    const count = wholeAt(sparse, 'count', place, 1);
    if (count > vertices) refuse('out-of-range', place, count, `at most ${vertices} sparse values`, GLB_REMEDY);
    const where = objectAt(sparse.indices, `${place}, sparse indices`);
    const what = objectAt(sparse.values, `${place}, sparse values`);
    const type = wholeAt(where, 'componentType', place);
    if (type === FLOAT || BYTES[type] === undefined) {
      refuse('unsupported', place, type, 'sparse indices of 1, 2 or 4 bytes', GLB_REMEDY);
    }
    const from = this.#column(where, count, BYTES[type], type, place);
    const values = this.#column(what, count, 12, FLOAT, place);
    if (from === null || values === null) refuse('missing', place, 'no bufferView', 'sparse values', GLB_REMEDY);
    const indices = readIndices(from, count, vertices, place);
    for (let i = 0; i < count; i++) readPoint(values, i, out, indices[i]);
  }
}

function readPoint(column: Column, i: number, out: Float64Array, vertex: number): void {
  const { at, stride, componentType } = column;
  const size = BYTES[componentType];
  for (let k = 0; k < 3; k++) out[3 * vertex + k] = readNumber(column.view, at + i * stride + size * k, componentType);
}

function readNumber(view: DataView, at: number, componentType: number): number {
  if (componentType === FLOAT) return view.getFloat32(at, true);
  if (componentType === 5120) return view.getInt8(at);
  if (componentType === 5121) return view.getUint8(at);
  return componentType === 5122 ? view.getInt16(at, true) : view.getUint16(at, true);
}

/** Whole numbers to -1 ... 1 or 0 ... 1, as glTF 2.0 has it. */
function normalise(out: Float64Array, componentType: number): void {
  const most = QUANTISED[componentType];
  for (let i = 0; i < out.length; i++) out[i] = Math.max(-1, out[i] / most);
}

function readIndices(column: Column, count: number, vertices: number, place: string): Uint32Array {
  const { view, at, stride, componentType } = column;
  const out = new Uint32Array(count);
  for (let i = 0; i < count; i++) {
    const from = at + i * stride;
    const index =
      componentType === 5121
        ? view.getUint8(from)
        : componentType === 5123
          ? view.getUint16(from, true)
          : view.getUint32(from, true);
    if (index >= vertices) {
      refuse('out-of-range', `${place}, index ${i}`, index, `vertex indices below ${vertices}`, GLB_REMEDY);
    }
    out[i] = index;
  }
  return out;
}
