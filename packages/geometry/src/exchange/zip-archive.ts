import { decodeAscii } from './ascii-bytes.ts';
import { inflateEntry } from './inflate-entry.ts';
import { refuse } from './refuse.ts';

export interface ZipEntry {
  readonly name: string;
  readonly method: number;
  readonly crc: number;
  readonly packedBytes: number;
  readonly bytes: number;
  /** Where its local header begins, and its content. */
  readonly start: number;
  readonly contentStart: number;
}

export interface ZipLimits {
  readonly maxEntries: number;
  /** All entries together, unpacked. */
  readonly maxUnpackedBytes: number;
  /** Unpacked over packed, of an entry beyond a million bytes; text of numbers packs 3 to 20 times. */
  readonly maxRatio: number;
}

export const ZIP_LIMITS: ZipLimits = Object.freeze({ maxEntries: 4096, maxUnpackedBytes: 2 ** 30, maxRatio: 200 });

const REMEDY = 'The archive is damaged or not a plain one: export the file again.';
const SMALL = 1_000_000;

/**
 * The entries of a zip archive by its central directory (PKWARE APPNOTE 6.3, from memory), each checked against its local header.
 * Refused: encryption, zip64, several disks, methods but stored and deflated, names that leave the archive or come twice, entries
 * that overlap, sizes and ratios over the limits. Nothing is unpacked here.
 */
export function listZip(bytes: Uint8Array, limits: ZipLimits = ZIP_LIMITS): ZipEntry[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const { count, directoryStart, directoryEnd } = readEnd(view, limits);
  const entries: ZipEntry[] = [];
  let at = directoryStart;
  for (let i = 0; i < count; i++) {
    if (at + 46 > directoryEnd || view.getUint32(at, true) !== 0x02014b50) {
      refuse('malformed', `byte ${at}`, `${i} entries`, `${count} entries in the archive's directory`, REMEDY);
    }
    entries.push(readEntry(bytes, view, at, directoryStart));
    at += 46 + view.getUint16(at + 28, true) + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  if (at !== directoryEnd)
    refuse('inconsistent', `byte ${at}`, 'a directory of another length', 'its stated length', REMEDY);
  checkTogether(entries, limits);
  return entries;
}

/** Unpacks one entry, never further than its stated size, and checks size and checksum. */
export function unzipEntry(bytes: Uint8Array, entry: ZipEntry): Uint8Array {
  return inflateEntry(bytes.subarray(entry.contentStart, entry.contentStart + entry.packedBytes), entry);
}

function readEnd(view: DataView, limits: ZipLimits): { count: number; directoryStart: number; directoryEnd: number } {
  const at = findEnd(view);
  const [disk, firstDisk, countHere, count] = [4, 6, 8, 10].map((offset) => view.getUint16(at + offset, true));
  const size = view.getUint32(at + 12, true);
  const start = view.getUint32(at + 16, true);
  if (count === 0xffff || size === 0xffffffff || start === 0xffffffff) refuseZip64(`byte ${at}`);
  if (disk !== 0 || firstDisk !== 0 || countHere !== count) {
    refuse('unsupported', `byte ${at}`, 'an archive in several parts', 'one file', REMEDY);
  }
  if (count > limits.maxEntries) {
    refuse('too-large', `byte ${at}`, `${count} entries`, `at most ${limits.maxEntries} entries`, REMEDY);
  }
  if (start + size > at) refuse('truncated', `byte ${at}`, `${start} + ${size}`, 'a directory before its end', REMEDY);
  return { count, directoryStart: start, directoryEnd: start + size };
}

/** The end record stands last, before a comment of at most 65535 bytes that reaches just to the file's end. */
function findEnd(view: DataView): number {
  const last = view.byteLength - 22;
  for (let at = last; at >= 0 && at >= last - 0xffff; at--) {
    if (view.getUint32(at, true) === 0x06054b50 && at + 22 + view.getUint16(at + 20, true) === view.byteLength)
      return at;
  }
  return refuse('truncated', 'the end of the file', 'no end record', "a zip archive's end record", REMEDY);
}

function readEntry(bytes: Uint8Array, view: DataView, at: number, directoryStart: number): ZipEntry {
  const flags = view.getUint16(at + 8, true);
  const method = view.getUint16(at + 10, true);
  const crc = view.getUint32(at + 16, true);
  const packedBytes = view.getUint32(at + 20, true);
  const size = view.getUint32(at + 24, true);
  const start = view.getUint32(at + 42, true);
  const name = checkedName(bytes.subarray(at + 46, at + 46 + view.getUint16(at + 28, true)), at);
  if ((flags & 0x41) !== 0) refuse('unsupported', name, 'an encrypted entry', 'no password', 'Save it unencrypted.');
  if ([packedBytes, size, start].includes(0xffffffff)) refuseZip64(name);
  if (method !== 0 && method !== 8) refuse('unsupported', name, `method ${method}`, 'stored or deflated', REMEDY);
  if (method === 0 && size !== packedBytes) refuse('inconsistent', name, size, `${packedBytes} bytes, stored`, REMEDY);
  const contentStart = checkLocal(bytes, view, start, directoryStart, name, method);
  if (contentStart + packedBytes > directoryStart) {
    refuse('truncated', name, `${packedBytes} bytes`, 'an entry that ends before the directory', REMEDY);
  }
  return { name, method, crc, packedBytes, bytes: size, start, contentStart };
}

function checkLocal(bytes: Uint8Array, view: DataView, at: number, end: number, name: string, method: number): number {
  if (at + 30 > end || view.getUint32(at, true) !== 0x04034b50) {
    refuse('malformed', name, `byte ${at}`, 'its local header there', REMEDY);
  }
  const nameEnd = at + 30 + view.getUint16(at + 26, true);
  const own = decodeAscii(bytes.subarray(at + 30, Math.min(nameEnd, end)));
  const same = own === name && view.getUint16(at + 8, true) === method && (view.getUint16(at + 6, true) & 1) === 0;
  if (!same) refuse('inconsistent', name, own, 'the same name and method in both headers', REMEDY);
  return nameEnd + view.getUint16(at + 28, true);
}

/** Names are compared and never used as paths; those that could leave a folder are refused all the same. */
function checkedName(raw: Uint8Array, at: number): string {
  const name = decodeAscii(raw);
  const parts = name.split(/[/\\]/);
  if (name === '' || parts[0] === '' || /^[A-Za-z]:/.test(name) || parts.includes('..') || name.includes('\0')) {
    refuse('path', `byte ${at}`, name, 'names within the archive', REMEDY);
  }
  return name;
}

function checkTogether(entries: readonly ZipEntry[], limits: ZipLimits): void {
  const seen = new Set<string>();
  let total = 0;
  for (const { name, bytes, packedBytes } of entries) {
    const key = name.toLowerCase();
    if (seen.has(key)) refuse('duplicate-key', name, name, 'each name once', REMEDY);
    seen.add(key);
    total += bytes;
    if (total > limits.maxUnpackedBytes) {
      refuse(
        'too-large',
        name,
        `${total} bytes unpacked`,
        `at most ${limits.maxUnpackedBytes}`,
        'Export the scan alone.',
      );
    }
    if (bytes > SMALL && bytes > limits.maxRatio * packedBytes) {
      const got = `${bytes} bytes from ${packedBytes}`;
      refuse('too-large', name, got, `at most ${limits.maxRatio} times as large unpacked`, REMEDY);
    }
  }
  const inOrder = [...entries].sort((a, b) => a.start - b.start);
  inOrder.forEach(({ name, start }, i) => {
    const before = inOrder[i - 1];
    if (before === undefined || before.contentStart + before.packedBytes <= start) return;
    refuse('inconsistent', name, `overlaps ${before.name}`, 'entries beside each other', REMEDY);
  });
}

function refuseZip64(place: string): never {
  refuse('unsupported', place, 'zip64', 'an archive below 4 GB', 'Thin the scan out, then export it again.');
}
