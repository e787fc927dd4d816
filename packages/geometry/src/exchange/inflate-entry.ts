import { Inflate } from 'fflate';
import { refuse } from './refuse.ts';
import type { ZipEntry } from './zip-archive.ts';

/** Packed bytes given to the inflater at a time: at the format's most, 1032 times, what comes out is 8 MB before we can stop. */
const STEP = 8192;
const REMEDY = 'The archive is damaged or lies about its sizes: export the file again.';

/**
 * Unpacks one stored or deflated entry and stops at the first byte beyond its stated size.
 * @throws InputError inconsistent (size or checksum differ from what is stated), malformed (not deflate at all).
 */
export function inflateEntry(packed: Uint8Array, entry: ZipEntry): Uint8Array {
  const content = entry.method === 0 ? packed : inflated(packed, entry);
  const crc = crc32(content);
  if (crc !== entry.crc) {
    refuse('inconsistent', entry.name, crc.toString(16), `checksum ${entry.crc.toString(16)}`, REMEDY);
  }
  return content;
}

function inflated(packed: Uint8Array, { name, bytes }: ZipEntry): Uint8Array {
  const pieces: Uint8Array[] = [];
  let length = 0;
  const inflate = new Inflate((piece) => {
    length += piece.length;
    if (length > bytes) refuse('inconsistent', name, `more than ${bytes} bytes`, `${bytes} bytes unpacked`, REMEDY);
    pieces.push(piece);
  });
  for (let at = 0; at < packed.length; at += STEP) {
    push(inflate, packed.subarray(at, at + STEP), at + STEP >= packed.length, name);
  }
  if (length !== bytes) refuse('inconsistent', name, `${length} bytes`, `${bytes} bytes unpacked`, REMEDY);
  return joined(pieces, length);
}

/** The inflater's own errors carry a number as their code; a refusal of ours passes through it unchanged. */
function push(inflate: Inflate, piece: Uint8Array, last: boolean, name: string): void {
  try {
    inflate.push(piece, last);
  } catch (error) {
    if (!(error instanceof Error) || typeof (error as { code?: unknown }).code !== 'number') throw error;
    refuse('malformed', name, error.message, 'deflated content', REMEDY);
  }
}

function joined(pieces: readonly Uint8Array[], length: number): Uint8Array {
  const all = new Uint8Array(length);
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}

const TABLE = Uint32Array.from({ length: 256 }, (_, i) => {
  let value = i;
  for (let bit = 0; bit < 8; bit++) value = value & 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
  return value;
});

/** CRC-32 of zip and PNG (reflected polynomial EDB88320, from memory). */
export function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (let i = 0; i < bytes.length; i++) crc = TABLE[(crc ^ bytes[i]) & 255] ^ (crc >>> 8);
  return ~crc >>> 0;
}
