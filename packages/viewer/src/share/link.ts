import type { BenchDocument } from '@barwright/geometry';
import { REFUSAL_TEXTS } from '../look/texts/refusals.ts';
import { bytesOf, textOf } from './base64.ts';

/** What the part of an address after # begins with when it carries a bench. */
const MARK = '#bench=';
/** Packed, in signs: what browsers still open and people still paste. */
export const MOST_SIGNS = 60_000;
/** Unpacked: a few kilobytes can unpack to gigabytes. */
const MOST_BYTES = 4 * 1024 * 1024;

export const carriesBench = (hash: string): boolean => hash.startsWith(MARK);

/** The part of an address that carries a bench: its JSON packed (RFC 1951), in base64url. Nothing is sent to a server by it. */
export async function hashOf(bench: BenchDocument): Promise<string> {
  const packed = await whole(through(new Blob([JSON.stringify(bench)]), new CompressionStream('deflate-raw')));
  const text = await textOf(packed);
  return MARK + text.replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

/** The JSON text in such a part. Rejects where it is cut off, altered, or unpacks to more than a bench can be. */
export async function textIn(hash: string): Promise<string> {
  if (hash.length > MOST_SIGNS + MARK.length) throw new Error(REFUSAL_TEXTS.link.tooLong);
  const base64 = hash.slice(MARK.length).replaceAll('-', '+').replaceAll('_', '/');
  const packed = bytesOf(base64) as Uint8Array<ArrayBuffer>;
  const text = await whole(through(new Blob([packed]), new DecompressionStream('deflate-raw')));
  return new TextDecoder('utf-8', { fatal: true }).decode(text);
}

const through = (blob: Blob, by: CompressionStream | DecompressionStream): ReadableStream<Uint8Array> =>
  blob.stream().pipeThrough(by as ReadableWritablePair<Uint8Array, Uint8Array<ArrayBuffer>>);

async function whole(stream: ReadableStream<Uint8Array>): Promise<Uint8Array> {
  const parts: Uint8Array[] = [];
  let length = 0;
  const reader = stream.getReader();
  for (let { done, value } = await reader.read(); !done; { done, value } = await reader.read()) {
    parts.push(value!);
    length += value!.length;
    if (length <= MOST_BYTES) continue;
    await reader.cancel();
    throw new Error(REFUSAL_TEXTS.link.unpacksTooMuch);
  }
  const bytes = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}
