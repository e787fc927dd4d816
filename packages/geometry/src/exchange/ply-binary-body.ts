import type { FaceSink } from './face-sink.ts';
import type { PlyBody, VertexRoles } from './ply-body.ts';
import { colourByte } from './ply-colour.ts';
import { type PlyElement, type PlyProperty, SCALAR, SCALAR_BYTES } from './ply-header.ts';
import { readPackedFloats, readPackedTriangles } from './ply-packed.ts';
import { MAX_COORDINATE } from './raw-mesh.ts';
import { refuse, refuseCoordinate } from './refuse.ts';

const REMEDY = 'The file was cut off or its header is wrong; export the mesh again.';

/** Body of a binary PLY file of either byte order. */
export class PlyBinaryBody implements PlyBody {
  readonly #bytes: Uint8Array;
  readonly #view: DataView;
  readonly #little: boolean;
  #at: number;

  constructor(bytes: Uint8Array, from: number, little: boolean) {
    this.#bytes = bytes;
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    this.#little = little;
    this.#at = from;
  }

  checkRoom(element: PlyElement): void {
    const least = leastBytes(element.properties);
    if (element.count > 0 && element.properties.length === 0) {
      refuse('malformed', `element ${element.name}`, 'no properties', 'at least one property', REMEDY);
    }
    const room = this.#bytes.length - this.#at;
    if (element.count * least <= room) return;
    const expected = `at least ${element.count * least} bytes for ${element.count} x ${element.name}`;
    refuse('truncated', `byte ${this.#at}`, `${room} bytes`, expected, REMEDY);
  }

  readVertices(element: PlyElement, roles: VertexRoles, positions: Float64Array, colours: Uint8Array | null): void {
    const { properties } = element;
    if (properties.some((property) => property.countType >= 0)) {
      refuse(
        'unsupported',
        'element vertex',
        'a list property',
        'plain values for each vertex',
        'Export without lists.',
      );
    }
    const start = this.#at;
    const stride = leastBytes(properties);
    const offsets = [roles.x, roles.y, roles.z].map((role) => leastBytes(properties.slice(0, role)));
    const types = [roles.x, roles.y, roles.z].map((role) => properties[role].type);
    const floats = stride === 12 && offsets.join() === '0,4,8' && types.every((type) => type === SCALAR.f32);
    if (!this.#little || !floats || !readPackedFloats(this.#bytes, start, positions)) {
      this.#readScalars(offsets, types, stride, positions);
      checkCoordinates(positions);
    }
    if (colours !== null) this.#readColours(element, roles.colour, start, stride, colours);
    this.#at = start + stride * element.count;
  }

  readFaces(element: PlyElement, indices: number, sink: FaceSink): void {
    const { properties } = element;
    const [only] = properties;
    const plain =
      this.#little && properties.length === 1 && SCALAR_BYTES[only.countType] === 1 && SCALAR_BYTES[only.type] === 4;
    let done = plain && only.type !== SCALAR.f32 ? this.#readTriangles(element.count, sink) : 0;
    const corners: number[] = [];
    for (; done < element.count; done++) {
      for (let p = 0; p < properties.length; p++) {
        if (p !== indices) this.#skipProperty(properties[p]);
        else this.#readList(properties[p], corners);
      }
      const face = done;
      sink.addFace(corners, () => `face ${face}`);
    }
  }

  skip(element: PlyElement): void {
    const { properties, count } = element;
    if (properties.every((property) => property.countType < 0)) {
      this.#at += leastBytes(properties) * count;
      return;
    }
    for (let i = 0; i < count; i++) for (const property of properties) this.#skipProperty(property);
  }

  leftOver(): string | null {
    const left = this.#bytes.length - this.#at;
    return left > 0 ? `${left} bytes` : null;
  }

  #readScalars(offsets: readonly number[], types: readonly number[], stride: number, positions: Float64Array): void {
    for (let k = 0; k < 3; k++) {
      const type = types[k];
      for (let i = k, at = this.#at + offsets[k]; i < positions.length; i += 3, at += stride) {
        positions[i] = this.#scalar(at, type);
      }
    }
  }

  #readColours(element: PlyElement, roles: readonly number[], start: number, stride: number, out: Uint8Array): void {
    roles.forEach((role, channel) => {
      const { type } = element.properties[role];
      const offset = leastBytes(element.properties.slice(0, role));
      for (let i = 0; i < element.count; i++) {
        out[3 * i + channel] = colourByte(this.#scalar(start + stride * i + offset, type), type);
      }
    });
  }

  /** Takes the leading faces that are triangles in the common layout; answers how many. The others get a closer look. */
  #readTriangles(count: number, sink: FaceSink): number {
    const { triangles, vertexCount } = sink;
    const room = Math.min(
      count,
      Math.floor((this.#bytes.length - this.#at) / 13),
      Math.floor(triangles.data.length / 3),
    );
    const done = readPackedTriangles(this.#view, this.#at, vertexCount, triangles.data.subarray(0, 3 * room));
    triangles.length = 3 * done;
    this.#at += 13 * done;
    return done;
  }

  #readList(property: PlyProperty, out: number[]): void {
    const { length, size } = this.#listHead(property);
    out.length = length;
    for (let i = 0; i < length; i++) out[i] = this.#scalar(this.#at + i * size, property.type);
    this.#at += length * size;
  }

  #skipProperty(property: PlyProperty): void {
    if (property.countType >= 0) {
      const { length, size } = this.#listHead(property);
      this.#at += length * size;
      return;
    }
    this.#need(SCALAR_BYTES[property.type]);
    this.#at += SCALAR_BYTES[property.type];
  }

  #listHead(property: PlyProperty): { length: number; size: number } {
    this.#need(SCALAR_BYTES[property.countType]);
    const length = this.#scalar(this.#at, property.countType);
    const size = SCALAR_BYTES[property.type];
    if (length < 0) refuse('malformed', `byte ${this.#at}`, length, 'a list count of 0 or more', REMEDY);
    this.#at += SCALAR_BYTES[property.countType];
    this.#need(length * size);
    return { length, size };
  }

  #need(byteCount: number): void {
    const room = this.#bytes.length - this.#at;
    if (byteCount > room) refuse('truncated', `byte ${this.#at}`, `${room} bytes`, `${byteCount} more bytes`, REMEDY);
  }

  #scalar(at: number, type: number): number {
    const view = this.#view;
    const little = this.#little;
    switch (type) {
      case SCALAR.i8:
        return view.getInt8(at);
      case SCALAR.u8:
        return view.getUint8(at);
      case SCALAR.i16:
        return view.getInt16(at, little);
      case SCALAR.u16:
        return view.getUint16(at, little);
      case SCALAR.i32:
        return view.getInt32(at, little);
      case SCALAR.u32:
        return view.getUint32(at, little);
      case SCALAR.f32:
        return view.getFloat32(at, little);
      default:
        return view.getFloat64(at, little);
    }
  }
}

/** Bytes that one entry takes at the least: every list empty. */
function leastBytes(properties: readonly PlyProperty[]): number {
  return properties.reduce((sum, { type, countType }) => sum + SCALAR_BYTES[countType >= 0 ? countType : type], 0);
}

function checkCoordinates(positions: Float64Array): void {
  for (let i = 0; i < positions.length; i += 3) {
    const x = positions[i];
    const y = positions[i + 1];
    const z = positions[i + 2];
    if (Math.abs(x) <= MAX_COORDINATE && Math.abs(y) <= MAX_COORDINATE && Math.abs(z) <= MAX_COORDINATE) continue;
    refuseCoordinate(`vertex ${i / 3}`, x, y, z);
  }
}
