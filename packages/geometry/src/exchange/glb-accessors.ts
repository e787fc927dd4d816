import type { GlbParts, JsonObject } from './glb-container.ts';
import { entryAt, GLB_REMEDY, listOf, objectAt, wholeAt } from './glb-fields.ts';
import { MAX_COORDINATE, type ReadLimits } from './raw-mesh.ts';
import { checkTriangleCount, refuse, refuseCoordinate } from './refuse.ts';

const FLOAT = 5126;
const BYTES: Readonly<Record<number, number>> = Object.freeze({ 5121: 1, 5123: 2, 5125: 4, [FLOAT]: 4 });
/** Positions that no bytes of the file stand behind: all zeros but for sparse ones. */
const MOST_UNBACKED = 1_000_000;

/** Where one column of numbers lies in the BIN chunk, checked to lie inside it. */
interface Column {
  readonly view: DataView;
  readonly at: number;
  readonly stride: number;
  readonly componentType: number;
}

/** Reads positions and indices from the BIN chunk; counts and places are checked against it before memory is taken. */
export class GlbAccessors {
  readonly #bin: Uint8Array;
  readonly #accessors: readonly JsonObject[];
  readonly #views: readonly JsonObject[];
  readonly #buffers: readonly JsonObject[];
  readonly #limits: ReadLimits;

  constructor({ json, bin }: GlbParts, limits: ReadLimits) {
    this.#bin = bin;
    this.#limits = limits;
    this.#accessors = listOf(json, 'accessors', '');
    this.#views = listOf(json, 'bufferViews', '');
    this.#buffers = listOf(json, 'buffers', '');
  }

  /** 3n coordinates of the accessor that `owner[key]` names. */
  positions(owner: JsonObject, key: string, place: string): Float64Array {
    const accessor = entryAt(this.#accessors, owner, key, place);
    const count = this.#checkKind(accessor, 'VEC3', [FLOAT], place);
    const column = this.#column(accessor, count, 12, FLOAT, place);
    if (column === null) this.#checkUnbacked(accessor, count, place);
    const out = new Float64Array(3 * count);
    if (column !== null) for (let i = 0; i < count; i++) readPoint(column, i, out, i);
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
    const count = this.#checkKind(accessor, 'SCALAR', [5121, 5123, 5125], place);
    if (accessor.sparse !== undefined) refuse('unsupported', place, 'sparse indices', 'plain indices', GLB_REMEDY);
    const type = wholeAt(accessor, 'componentType', place);
    const column = this.#column(accessor, count, BYTES[type], type, place);
    if (column === null) return refuse('missing', place, 'indices without a bufferView', 'stored indices', GLB_REMEDY);
    return readIndices(column, count, vertices, place);
  }

  #checkKind(accessor: JsonObject, type: string, components: readonly number[], place: string): number {
    const got = accessor.componentType;
    if (accessor.type !== type || !components.includes(got as number) || accessor.normalized === true) {
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
    const held = this.#checkView(bufferView, place);
    const stride = wholeAt(bufferView, 'byteStride', place, 4, Math.max(4, size));
    const step = bufferView.byteStride === undefined ? size : stride;
    const offset = wholeAt(owner, 'byteOffset', place, 0, 0);
    if (step < size || step > 252) refuse('out-of-range', place, step, `a byteStride from ${size} to 252`, GLB_REMEDY);
    const needed = offset + step * (count - 1) + size;
    if (needed > held.byteLength) {
      refuse('truncated', place, `${held.byteLength} bytes`, `${needed} bytes for ${count} entries`, GLB_REMEDY);
    }
    const view = new DataView(this.#bin.buffer, this.#bin.byteOffset, this.#bin.byteLength);
    return { view, at: held.byteOffset + offset, stride: step, componentType };
  }

  #checkView(bufferView: JsonObject, place: string): { byteOffset: number; byteLength: number } {
    const buffer = entryAt(this.#buffers, bufferView, 'buffer', place);
    this.#checkOwnBuffer(buffer, place);
    const byteOffset = wholeAt(bufferView, 'byteOffset', place, 0, 0);
    const byteLength = wholeAt(bufferView, 'byteLength', place, 1);
    const room = Math.min(this.#bin.length, wholeAt(buffer, 'byteLength', place, 1));
    if (byteOffset + byteLength > room) {
      const got = `bytes ${byteOffset} to ${byteOffset + byteLength}`;
      refuse('truncated', place, got, `bytes within the ${room} of the BIN chunk`, GLB_REMEDY);
    }
    return { byteOffset, byteLength };
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

function readPoint({ view, at, stride }: Column, i: number, out: Float64Array, vertex: number): void {
  for (let k = 0; k < 3; k++) out[3 * vertex + k] = view.getFloat32(at + i * stride + 4 * k, true);
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
