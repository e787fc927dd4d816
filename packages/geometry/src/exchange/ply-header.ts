import { decodeAscii } from './ascii-bytes.ts';
import { refuse } from './refuse.ts';

/** Scalar types by number; the order is that of SCALAR_BYTES. */
export const SCALAR = Object.freeze({ i8: 0, u8: 1, i16: 2, u16: 3, i32: 4, u32: 5, f32: 6, f64: 7 });
export const SCALAR_BYTES: readonly number[] = Object.freeze([1, 1, 2, 2, 4, 4, 4, 8]);

const TYPE_NAMES: ReadonlyMap<string, number> = new Map(
  Object.entries({
    char: SCALAR.i8,
    int8: SCALAR.i8,
    uchar: SCALAR.u8,
    uint8: SCALAR.u8,
    short: SCALAR.i16,
    int16: SCALAR.i16,
    ushort: SCALAR.u16,
    uint16: SCALAR.u16,
    int: SCALAR.i32,
    int32: SCALAR.i32,
    uint: SCALAR.u32,
    uint32: SCALAR.u32,
    float: SCALAR.f32,
    float32: SCALAR.f32,
    double: SCALAR.f64,
    float64: SCALAR.f64,
  }),
);

export interface PlyProperty {
  readonly name: string;
  /** Type of the value, or of each list item. */
  readonly type: number;
  /** Type of a list's count; -1 for a plain value. */
  readonly countType: number;
}

export interface PlyElement {
  readonly name: string;
  readonly count: number;
  readonly properties: PlyProperty[];
}

export type PlyEncoding = 'ascii' | 'binary_little_endian' | 'binary_big_endian';

export interface PlyHeader {
  readonly encoding: PlyEncoding;
  readonly elements: readonly PlyElement[];
  /** First byte after the header's last line end. */
  readonly bodyStart: number;
}

const MAX_HEADER_BYTES = 2 ** 20;
const MAX_PROPERTIES = 256;
const REMEDY = 'Export the mesh again as PLY.';

/** Reads a PLY header (Turk 1994, from memory): encoding, elements and their properties in order. */
export function parsePlyHeader(bytes: Uint8Array): PlyHeader {
  let encoding: PlyEncoding | null = null;
  const elements: PlyElement[] = [];
  for (let at = 0, line = 1; ; line++) {
    const end = lineEnd(bytes, at, line);
    const text = decodeAscii(bytes.subarray(at, end));
    at = afterLineEnd(bytes, end);
    const words = text.trim().split(/\s+/);
    const place = `line ${line}`;
    if (line === 1) {
      if (text.trim() !== 'ply') refuse('malformed', place, text, 'the word "ply" alone on the first line', REMEDY);
    } else if (words[0] === 'format') encoding = parseFormat(words, place);
    else if (words[0] === 'element') elements.push(parseElement(words, place));
    else if (words[0] === 'property') parseProperty(words, elements.at(-1), place);
    else if (words[0] === 'end_header') {
      if (encoding === null) refuse('missing', place, 'no format line', 'a "format" line in the header', REMEDY);
      return { encoding, elements, bodyStart: at };
    } else if (!['comment', 'obj_info', ''].includes(words[0])) {
      refuse('malformed', place, text, 'format, comment, element, property or end_header', REMEDY);
    }
  }
}

function lineEnd(bytes: Uint8Array, from: number, line: number): number {
  const limit = Math.min(bytes.length, MAX_HEADER_BYTES);
  let at = from;
  while (at < limit && bytes[at] !== 10 && bytes[at] !== 13) at++;
  if (at < limit) return at;
  if (line > 1 && limit === bytes.length && decodeAscii(bytes.subarray(from, from + 16)).trim() === 'end_header')
    return at;
  const code = limit === bytes.length ? 'truncated' : 'malformed';
  return refuse(code, `line ${line}`, 'the end of the header is missing', 'a line "end_header"', REMEDY);
}

function afterLineEnd(bytes: Uint8Array, end: number): number {
  return bytes[end] === 13 && bytes[end + 1] === 10 ? end + 2 : Math.min(end + 1, bytes.length);
}

function parseFormat(words: readonly string[], place: string): PlyEncoding {
  const [, name, version] = words;
  const known = name === 'ascii' || name === 'binary_little_endian' || name === 'binary_big_endian';
  if (known && version === '1.0') return name;
  const expected = 'format ascii, binary_little_endian or binary_big_endian, version 1.0';
  return refuse('unsupported', place, words.join(' '), expected, REMEDY);
}

function parseElement(words: readonly string[], place: string): PlyElement {
  const [, name, count] = words;
  if (words.length !== 3 || !/^\d{1,15}$/.test(count)) {
    refuse('malformed', place, words.join(' '), 'element, a name and a whole number', REMEDY);
  }
  return { name, count: Number(count), properties: [] };
}

function parseProperty(words: readonly string[], element: PlyElement | undefined, place: string): void {
  const list = words[1] === 'list';
  if (element === undefined || words.length !== (list ? 5 : 3)) {
    refuse('malformed', place, words.join(' '), 'a property with its type and name, after an element', REMEDY);
  }
  const countType = list ? parseType(words[2], place) : -1;
  if (countType >= SCALAR.f32) refuse('wrong-type', place, words.join(' '), 'a whole-number type for a count', REMEDY);
  const type = parseType(words[list ? 3 : 1], place);
  const name = words[list ? 4 : 2];
  if (element.properties.some((other) => other.name === name)) {
    refuse('duplicate-key', place, name, 'each property once in an element', REMEDY);
  }
  if (element.properties.length >= MAX_PROPERTIES) {
    refuse('too-long', place, name, `at most ${MAX_PROPERTIES} properties in an element`, REMEDY);
  }
  element.properties.push({ name, type, countType });
}

function parseType(word: string, place: string): number {
  const expected = `one of ${[...TYPE_NAMES.keys()].join(', ')}`;
  return TYPE_NAMES.get(word) ?? refuse('wrong-type', place, word, expected, REMEDY);
}
