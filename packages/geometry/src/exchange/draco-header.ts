import { refuse } from './refuse.ts';

const REMEDY = 'Export the scan again, or save it without mesh compression.';
const METADATA = 0x8000;

/** Numbers that a Draco mesh states before its data. */
export interface DracoCounts {
  readonly faces: number;
  readonly vertices: number;
}

/**
 * Reads the counts of a Draco mesh (bitstream 2.x, from memory) without unpacking it, so that they can be checked before memory is taken:
 * "DRACO", version, kind, method, flags, then, sequential: faces and points; edgebreaker: one byte, vertices and faces; as
 * numbers of seven bits a byte.
 * @throws InputError malformed, truncated, or unsupported for older streams, clouds and metadata.
 */
export function dracoCounts(bytes: Uint8Array, place: string): DracoCounts {
  const mark = String.fromCharCode(...bytes.subarray(0, 5));
  if (mark !== 'DRACO' || bytes.length < 12) refuse('malformed', place, mark, 'data that begins with DRACO', REMEDY);
  const [major, , kind, method] = bytes.subarray(5, 9);
  if (major !== 2) refuse('unsupported', place, `Draco ${major}`, 'Draco bitstream 2', REMEDY);
  if (kind !== 1) refuse('unsupported', place, 'a Draco cloud of points', 'a Draco mesh', REMEDY);
  const flags = bytes[9] + 256 * bytes[10];
  if ((flags & METADATA) !== 0) refuse('unsupported', place, 'Draco metadata', 'a Draco mesh without metadata', REMEDY);
  if (method !== 0 && method !== 1) refuse('malformed', place, `method ${method}`, 'Draco method 0 or 1', REMEDY);
  const first = readVarint(bytes, method === 0 ? 11 : 12, place);
  const second = readVarint(bytes, first.next, place);
  return method === 0 ? { faces: first.value, vertices: second.value } : { faces: second.value, vertices: first.value };
}

function readVarint(bytes: Uint8Array, from: number, place: string): { value: number; next: number } {
  let value = 0;
  for (let i = 0; i < 5; i++) {
    if (from + i >= bytes.length) break;
    const byte = bytes[from + i];
    value += (byte & 127) * 2 ** (7 * i);
    if (byte < 128) return { value, next: from + i + 1 };
  }
  return refuse('truncated', place, 'a count without an end', 'the counts of a Draco mesh', REMEDY);
}
