import { decodeAscii } from './ascii-bytes.ts';
import { refuse } from './refuse.ts';

/** The platform's own; the language library of this package does not declare it. */
declare const TextDecoder: new (label: string, options: { fatal: boolean }) => { decode(bytes: Uint8Array): string };

const DEEPEST = 32;
const MOST_ATTRIBUTES = 64;
const LONGEST_VALUE = 65_536;
const LONGEST_NAME = 128;
const REMEDY = 'The file is damaged or unusual XML: export it again.';
const FIVE: Readonly<Record<string, string>> = Object.freeze({ lt: '<', gt: '>', amp: '&', quot: '"', apos: "'" });

/**
 * Walks the tags of an XML part (XML 1.0, from memory) straight from its UTF-8 bytes, one at a time. Text between tags, comments,
 * CDATA and processing instructions are passed over. Nothing can expand or be fetched: a document type is refused, and of
 * entities only the five and numbered characters are known, in attributes.
 */
export class XmlScanner {
  name = '';
  /** False for an end tag. */
  opens = false;
  /** True for an end tag and for an empty element. */
  closes = false;
  readonly #bytes: Uint8Array;
  readonly #part: string;
  readonly #open: string[] = [];
  readonly #names: string[] = [];
  readonly #values: string[] = [];
  #count = 0;
  #at = 0;
  #start = 0;
  #sawRoot = false;

  constructor(bytes: Uint8Array, part: string) {
    this.#bytes = bytes;
    this.#part = part;
    this.#checkEncoding();
  }

  /** Open elements around the present tag, itself included when it opens. */
  get depth(): number {
    return this.#open.length;
  }

  place(): string {
    return `${this.#part}, byte ${this.#start}`;
  }

  attribute(name: string): string | undefined {
    for (let i = 0; i < this.#count; i++) if (this.#names[i] === name) return this.#values[i];
    return undefined;
  }

  /** Attribute names and values of the present tag, in order. */
  attributes(): [name: string, value: string][] {
    return this.#names.slice(0, this.#count).map((name, i) => [name, this.#values[i]]);
  }

  /** Moves to the next tag; false at the end of the document, which must be complete. */
  next(): boolean {
    // An empty element was closed as it was read.
    for (;;) {
      const start = this.#bytes.indexOf(60, this.#at);
      if (start < 0) return this.#finish();
      this.#start = start;
      const mark = this.#bytes[start + 1];
      if (mark === 63) this.#at = this.#passOver('?>', start + 2);
      else if (mark === 33) this.#at = this.#passMarked(start);
      else {
        this.#readTag(start + 1);
        return true;
      }
    }
  }

  #checkEncoding(): void {
    const [a, b] = this.#bytes;
    const start = decodeAscii(this.#bytes.subarray(0, 200));
    const declared = /^(?:\xef\xbb\xbf)?<\?xml[^>]*\sencoding\s*=\s*["']([^"']*)["']/.exec(start)?.[1];
    const wide = (a === 0xff && b === 0xfe) || (a === 0xfe && b === 0xff) || a === 0 || b === 0;
    if (!wide && (declared === undefined || /^(utf-8|us-ascii)$/i.test(declared))) return;
    refuse('unsupported', this.#part, wide ? 'UTF-16 or UTF-32' : declared, 'XML in UTF-8', 'Save it as UTF-8.');
  }

  #finish(): false {
    this.#start = this.#bytes.length;
    if (this.#open.length > 0) {
      refuse('truncated', this.place(), `open element ${this.#open[this.#open.length - 1]}`, 'its end tag', REMEDY);
    }
    if (!this.#sawRoot) refuse('empty', this.place(), 'no element', 'an XML document', REMEDY);
    return false;
  }

  #passMarked(start: number): number {
    const opening = decodeAscii(this.#bytes.subarray(start, start + 9));
    if (opening.startsWith('<!--')) return this.#passOver('-->', start + 4);
    if (opening === '<![CDATA[' && this.#open.length > 0) return this.#passOver(']]>', start + 9);
    return refuse('forbidden', this.place(), opening, 'XML without a document type', 'Save it without <!DOCTYPE>.');
  }

  #passOver(mark: string, from: number): number {
    const bytes = this.#bytes;
    for (let p = bytes.indexOf(mark.charCodeAt(0), from); p >= 0; p = bytes.indexOf(mark.charCodeAt(0), p + 1)) {
      let same = 1;
      while (same < mark.length && bytes[p + same] === mark.charCodeAt(same)) same++;
      if (same === mark.length) return p + same;
    }
    return refuse('truncated', this.place(), 'the end of the part', `a closing ${mark}`, REMEDY);
  }

  #readTag(from: number): void {
    const bytes = this.#bytes;
    const isEnd = bytes[from] === 47;
    let p = isEnd ? from + 1 : from;
    const nameEnd = this.#nameEnd(p);
    this.name = isText(bytes, p, nameEnd, this.name) ? this.name : text(bytes, p, nameEnd);
    p = nameEnd;
    this.#count = 0;
    for (;;) {
      const blank = p;
      while (isBlank(bytes[p])) p++;
      const byte = bytes[p];
      if (byte === 62) break;
      if (byte === 47 && bytes[p + 1] === 62 && !isEnd) break;
      if (isEnd || p === blank || p >= bytes.length) this.#refuseTag(p);
      p = this.#readAttribute(p);
    }
    const isEmpty = bytes[p] === 47;
    this.#at = p + (isEmpty ? 2 : 1);
    this.opens = !isEnd;
    this.closes = isEnd || isEmpty;
    this.#keepStack(isEnd, isEmpty);
  }

  #keepStack(isEnd: boolean, isEmpty: boolean): void {
    if (isEnd) {
      const open = this.#open.pop();
      if (open !== this.name)
        refuse('malformed', this.place(), `</${this.name}>`, `the end of ${open ?? 'nothing'}`, REMEDY);
      return;
    }
    if (this.#open.length === 0 && this.#sawRoot)
      refuse('malformed', this.place(), this.name, 'one root element', REMEDY);
    this.#sawRoot = true;
    if (isEmpty) return;
    if (this.#open.length >= DEEPEST) {
      refuse('too-large', this.place(), 'deeper elements', `at most ${DEEPEST} levels of elements`, REMEDY);
    }
    this.#open.push(this.name);
  }

  #readAttribute(from: number): number {
    const bytes = this.#bytes;
    let p = this.#nameEnd(from);
    const before = this.#names[this.#count] ?? '';
    const name = isText(bytes, from, p, before) ? before : text(bytes, from, p);
    while (isBlank(bytes[p])) p++;
    if (bytes[p++] !== 61) this.#refuseTag(p - 1);
    while (isBlank(bytes[p])) p++;
    const quote = bytes[p++];
    if (quote !== 34 && quote !== 39) this.#refuseTag(p - 1);
    let end = p;
    let entities = false;
    while (end < bytes.length && bytes[end] !== quote && bytes[end] !== 60) if (bytes[end++] === 38) entities = true;
    if (bytes[end] !== quote) this.#refuseTag(end);
    if (end - p > LONGEST_VALUE) refuse('too-long', this.place(), `${end - p} bytes`, 'a shorter attribute', REMEDY);
    if (this.attribute(name) !== undefined) refuse('duplicate-key', this.place(), name, 'each attribute once', REMEDY);
    if (this.#count >= MOST_ATTRIBUTES) {
      refuse('too-large', this.place(), 'more attributes', `at most ${MOST_ATTRIBUTES} attributes`, REMEDY);
    }
    const value = text(bytes, p, end);
    this.#names[this.#count] = name;
    this.#values[this.#count++] = entities ? this.#expand(value) : value;
    return end + 1;
  }

  #expand(value: string): string {
    return value.replace(/&([^;&]{0,12})(;?)/g, (whole, inner: string, end: string) => {
      const code = /^#(?:x([0-9a-fA-F]{1,6})|(\d{1,7}))$/.exec(inner);
      const point = code === null ? -1 : Number.parseInt(code[1] ?? code[2], code[1] === undefined ? 10 : 16);
      if (end === ';' && Object.hasOwn(FIVE, inner)) return FIVE[inner];
      if (end === ';' && point > 0 && point <= 0x10ffff) return String.fromCodePoint(point);
      return refuse('forbidden', this.place(), whole, "XML's own five entities and numbered characters", REMEDY);
    });
  }

  #nameEnd(from: number): number {
    const bytes = this.#bytes;
    let p = from;
    while (p < bytes.length && isNameByte(bytes[p])) p++;
    const first = bytes[from];
    if (p === from || p - from > LONGEST_NAME || (first < 65 && first !== 58)) this.#refuseTag(from);
    return p;
  }

  #refuseTag(at: number): never {
    const got = decodeAscii(this.#bytes.subarray(at, at + 20));
    const code = at >= this.#bytes.length ? 'truncated' : 'malformed';
    refuse(code, this.place(), got, 'a complete tag', REMEDY);
  }
}

function isBlank(byte: number): boolean {
  return byte === 32 || (byte >= 9 && byte <= 13);
}

/** Letters, digits, - . : _ and everything beyond ASCII. */
function isNameByte(byte: number): boolean {
  return (
    (byte >= 97 && byte <= 122) ||
    (byte >= 65 && byte <= 90) ||
    (byte >= 48 && byte <= 58) ||
    byte === 45 ||
    byte === 46 ||
    byte === 95 ||
    byte > 127
  );
}

/** True when these bytes are the given ASCII: tags repeat, and a text known already need not be made again. */
function isText(bytes: Uint8Array, from: number, to: number, known: string): boolean {
  if (to - from !== known.length) return false;
  for (let p = from; p < to; p++) if (bytes[p] !== known.charCodeAt(p - from) || bytes[p] > 127) return false;
  return true;
}

/** Short ASCII is put together by hand, four at a time: some times quicker than a decoder's call for each. */
function text(bytes: Uint8Array, from: number, to: number): string {
  let top = to - from > 64 ? 255 : 0;
  for (let p = from; p < to && top < 128; p++) top |= bytes[p];
  if (top > 127) return decode(bytes.subarray(from, to));
  let out = '';
  let p = from;
  for (; p + 4 <= to; p += 4) out += String.fromCharCode(bytes[p], bytes[p + 1], bytes[p + 2], bytes[p + 3]);
  for (; p < to; p++) out += String.fromCharCode(bytes[p]);
  return out;
}

function decode(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return refuse('malformed', 'text', decodeAscii(bytes.subarray(0, 20)), 'text in UTF-8', REMEDY);
  }
}
