import type { FaceSink } from './face-sink.ts';
import type { PlyBody, VertexRoles } from './ply-body.ts';
import { colourByte } from './ply-colour.ts';
import type { PlyElement } from './ply-header.ts';
import { readPackedTextTriangles } from './ply-packed-text.ts';
import { MAX_COORDINATE } from './raw-mesh.ts';
import { refuse, refuseCoordinate } from './refuse.ts';
import { TextScanner } from './text-scanner.ts';

const REMEDY = 'The file was cut off, edited or its header is wrong; export the mesh again.';

/** Body of an ASCII PLY file: one line for each entry of an element. */
export class PlyAsciiBody implements PlyBody {
  readonly #scan: TextScanner;

  constructor(bytes: Uint8Array, from: number) {
    this.#scan = new TextScanner(bytes, from);
  }

  checkRoom(element: PlyElement): void {
    const { name, count, properties } = element;
    if (count > 0 && properties.length === 0) {
      refuse('malformed', `element ${name}`, 'no properties', 'at least one property', REMEDY);
    }
    // A digit and a blank for each value; the file's last blank may be missing.
    const least = 2 * count * properties.length - 1;
    const room = this.#scan.bytes.length - this.#scan.pos;
    if (least <= room) return;
    refuse('truncated', `element ${name}`, `${room} bytes`, `at least ${least} bytes for ${count} x ${name}`, REMEDY);
  }

  readVertices(element: PlyElement, roles: VertexRoles, positions: Float64Array, colours: Uint8Array | null): void {
    const scan = this.#scan;
    const { properties, count } = element;
    if (properties.some((property) => property.countType >= 0)) {
      refuse(
        'unsupported',
        'element vertex',
        'a list property',
        'plain values for each vertex',
        'Export without lists.',
      );
    }
    const values = new Float64Array(properties.length);
    for (let i = 0; i < count; i++) {
      if (!scan.startLine()) this.#refuseEnd('vertex', i, count);
      for (let p = 0; p < values.length; p++) values[p] = scan.number();
      const x = values[roles.x];
      const y = values[roles.y];
      const z = values[roles.z];
      if (!(Math.abs(x) <= MAX_COORDINATE && Math.abs(y) <= MAX_COORDINATE && Math.abs(z) <= MAX_COORDINATE)) {
        this.#refuseVertex(i, x, y, z);
      }
      if (!scan.atLineEnd()) this.#refuseLine(`vertex ${i}`, `${values.length} numbers`);
      positions[3 * i] = x;
      positions[3 * i + 1] = y;
      positions[3 * i + 2] = z;
      if (colours === null) continue;
      for (let k = 0; k < 3; k++) {
        colours[3 * i + k] = colourByte(values[roles.colour[k]], properties[roles.colour[k]].type);
      }
    }
  }

  readFaces(element: PlyElement, indices: number, sink: FaceSink): void {
    const scan = this.#scan;
    const { properties, count } = element;
    const corners: number[] = [];
    for (let face = properties.length === 1 ? this.#readTriangles(sink) : 0; face < count; face++) {
      if (!scan.startLine()) this.#refuseEnd('face', face, count);
      const place = () => `face ${face}, ${scan.place()}`;
      for (let p = 0; p < properties.length; p++) {
        if (p !== indices) this.#skipProperty(properties[p].countType >= 0, place);
        else this.#readList(corners, place);
      }
      if (!scan.atLineEnd()) this.#refuseLine(`face ${face}`, 'the corners and properties that the header names');
      sink.addFace(corners, place);
    }
  }

  skip(element: PlyElement): void {
    for (let i = 0; i < element.count; i++) {
      if (!this.#scan.startLine()) this.#refuseEnd(element.name, i, element.count);
      this.#scan.skipLine();
    }
  }

  leftOver(): string | null {
    return this.#scan.startLine() ? `${this.#scan.bytes.length - this.#scan.pos} bytes` : null;
  }

  /** Takes the leading lines that are triangles in the common form; answers how many. The others get a closer look. */
  #readTriangles({ triangles, vertexCount }: FaceSink): number {
    this.#scan.startLine();
    const { faces, next } = readPackedTextTriangles(this.#scan.bytes, this.#scan.pos, vertexCount, triangles.data);
    triangles.length = 3 * faces;
    this.#scan.pos = next;
    return faces;
  }

  #readList(out: number[], place: () => string): void {
    const scan = this.#scan;
    const length = scan.index();
    if (length < 0) refuse('malformed', place(), scan.token(), 'the number of corners', REMEDY);
    if (2 * length > scan.bytes.length - scan.pos)
      refuse('truncated', place(), length, 'a corner count that fits', REMEDY);
    out.length = 0;
    for (let i = 0; i < length; i++) {
      const corner = scan.index();
      if (corner < 0)
        refuse(scan.atLineEnd() ? 'truncated' : 'malformed', place(), scan.token(), 'a vertex index', REMEDY);
      out.push(corner);
    }
  }

  #skipProperty(list: boolean, place: () => string): void {
    const scan = this.#scan;
    const length = list ? scan.index() : 1;
    let complete = length >= 0;
    for (let i = 0; i < length && complete; i++) complete = scan.skipToken();
    if (!complete) refuse('malformed', place(), scan.token(), 'every property that the header names', REMEDY);
  }

  #refuseEnd(name: string, at: number, count: number): never {
    refuse('truncated', `${name} ${at}`, 'the end of the file', `${count} lines of ${name}`, REMEDY);
  }

  /** A number that couldn't be read: a short line, a word such as nan, a decimal comma, or a number out of range. */
  #refuseVertex(i: number, x: number, y: number, z: number): never {
    const scan = this.#scan;
    const place = `vertex ${i}, ${scan.place()}`;
    const word = scan.token();
    if ([x, y, z].some((value) => Math.abs(value) > MAX_COORDINATE)) refuseCoordinate(place, x, y, z);
    if (word === '') refuse('truncated', place, 'the end of the line', 'three coordinates', REMEDY);
    if (/^[+-]?(nan|inf)/i.test(word)) refuse('not-a-number', place, word, 'finite coordinates', REMEDY);
    const remedy = word.includes(',') ? 'Write decimals with a point, not a comma.' : REMEDY;
    refuse('syntax', place, word, 'three coordinates', remedy);
  }

  #refuseLine(place: string, expected: string): never {
    const scan = this.#scan;
    scan.skipToken();
    refuse('malformed', `${place}, ${scan.place()}`, scan.token(), expected, REMEDY);
  }
}
