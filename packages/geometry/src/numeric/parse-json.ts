import { InputError, type InputErrorCode, showGot } from './input-error.ts';

export interface JsonLimits {
  /** Longest text, in characters, and largest file, in bytes. */
  readonly maxSize: number;
  /** Deepest nesting of lists and objects. */
  readonly maxDepth: number;
}

export const JSON_LIMITS: Readonly<JsonLimits> = Object.freeze({ maxSize: 32 * 1024 * 1024, maxDepth: 64 });

/** Names that reach an object's prototype when they are copied. */
const FORBIDDEN_KEYS: ReadonlySet<string> = new Set(['__proto__', 'constructor', 'prototype']);
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const WORDS = [
  ['true', true],
  ['false', false],
  ['null', null],
] as const;

/** The platform's own; the language library of this package does not declare it. */
declare const TextDecoder: new (label: string, options: { fatal: boolean }) => { decode(bytes: Uint8Array): string };

/**
 * Parses JSON (RFC 8259) from outside: text, or bytes in UTF-8 with or without a byte-order mark.
 * Stricter than the built-in parser: refuses duplicate keys, numbers too large to hold, keys that reach a prototype,
 * deep nesting and huge files. Throws InputError: empty, too-large, truncated, malformed, duplicate-key, forbidden,
 * not-a-number; `field` is the line and column.
 */
export function parseJson(input: string | Uint8Array, file?: string, limits: JsonLimits = JSON_LIMITS): unknown {
  try {
    return parseText(toText(input, limits), limits);
  } catch (error) {
    throw error instanceof InputError && file !== undefined ? error.inFile(file) : error;
  }
}

function toText(input: string | Uint8Array, limits: JsonLimits): string {
  if (input.length > limits.maxSize) {
    throw new InputError({
      code: 'too-large',
      got: `${input.length} bytes`,
      expected: `at most ${limits.maxSize} bytes`,
      remedy: 'Keep meshes in their own files beside the document',
    });
  }
  const text = typeof input === 'string' ? input : decode(input);
  return text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
}

function decode(bytes: Uint8Array): string {
  const isUtf16 = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  try {
    if (!isUtf16) return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    // Said below, as for UTF-16.
  }
  throw new InputError({
    code: 'malformed',
    got: isUtf16 ? 'UTF-16 text' : 'bytes that are no UTF-8 text',
    expected: 'JSON text in UTF-8',
    remedy: 'Save the file again as UTF-8',
  });
}

interface Cursor {
  readonly text: string;
  readonly limits: JsonLimits;
  at: number;
}

function parseText(text: string, limits: JsonLimits): unknown {
  const cursor: Cursor = { text, limits, at: 0 };
  skipBlank(cursor);
  if (cursor.at >= text.length) {
    throw new InputError({
      code: 'empty',
      expected: 'a JSON document',
      remedy: 'The file holds nothing: open another',
    });
  }
  const value = parseValue(cursor, 0);
  skipBlank(cursor);
  if (cursor.at < text.length) throw refuse(cursor, 'malformed', 'nothing after the document');
  return value;
}

function parseValue(cursor: Cursor, depth: number): unknown {
  const sign = cursor.text[cursor.at];
  if (sign === '{' || sign === '[') {
    if (depth >= cursor.limits.maxDepth) throw refuse(cursor, 'too-large', `at most ${cursor.limits.maxDepth} levels`);
    return sign === '{' ? parseObject(cursor, depth + 1) : parseList(cursor, depth + 1);
  }
  if (sign === '"') return parseString(cursor);
  for (const [word, value] of WORDS) {
    if (!cursor.text.startsWith(word, cursor.at)) continue;
    cursor.at += word.length;
    return value;
  }
  return parseNumber(cursor);
}

function parseObject(cursor: Cursor, depth: number): Record<string, unknown> {
  const object: Record<string, unknown> = {};
  cursor.at++;
  skipBlank(cursor);
  if (take(cursor, '}')) return object;
  for (;;) {
    const key = parseKey(cursor, object);
    skipBlank(cursor);
    if (!take(cursor, ':')) throw refuse(cursor, 'malformed', 'a colon after the key');
    skipBlank(cursor);
    object[key] = parseValue(cursor, depth);
    skipBlank(cursor);
    if (take(cursor, '}')) return object;
    if (!take(cursor, ',')) throw refuse(cursor, 'malformed', 'a comma or }');
    skipBlank(cursor);
  }
}

function parseKey(cursor: Cursor, object: object): string {
  const from = cursor.at;
  if (cursor.text[from] !== '"') throw refuse(cursor, 'malformed', 'a key in double quotes');
  const key = parseString(cursor);
  if (!FORBIDDEN_KEYS.has(key) && !Object.hasOwn(object, key)) return key;
  cursor.at = from;
  throw FORBIDDEN_KEYS.has(key)
    ? refuse(cursor, 'forbidden', 'names without a meaning inside the program', key)
    : refuse(cursor, 'duplicate-key', 'every key once', key);
}

function parseList(cursor: Cursor, depth: number): unknown[] {
  const list: unknown[] = [];
  cursor.at++;
  skipBlank(cursor);
  if (take(cursor, ']')) return list;
  for (;;) {
    list.push(parseValue(cursor, depth));
    skipBlank(cursor);
    if (take(cursor, ']')) return list;
    if (!take(cursor, ',')) throw refuse(cursor, 'malformed', 'a comma or ]');
    skipBlank(cursor);
  }
}

function parseString(cursor: Cursor): string {
  const { text } = cursor;
  const from = cursor.at;
  let escaped = false;
  for (let i = from + 1; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === 0x22) {
      cursor.at = i + 1;
      return escaped ? unescapeString(cursor, from) : text.slice(from + 1, i);
    }
    if (code < 0x20) {
      cursor.at = i;
      throw refuse(cursor, 'malformed', 'no control characters inside text', `character ${code}`);
    }
    if (code === 0x5c) {
      escaped = true;
      i++;
    }
  }
  cursor.at = text.length;
  throw refuse(cursor, 'truncated', 'a closing quote');
}

function unescapeString(cursor: Cursor, from: number): string {
  try {
    return JSON.parse(cursor.text.slice(from, cursor.at)) as string;
  } catch {
    cursor.at = from;
    throw refuse(cursor, 'malformed', 'text with known escapes');
  }
}

function parseNumber(cursor: Cursor): number {
  NUMBER.lastIndex = cursor.at;
  const match = NUMBER.exec(cursor.text);
  if (match === null)
    throw refuse(cursor, 'malformed', 'a value: text in double quotes, a decimal number, a list or an object');
  const value = Number(match[0]);
  if (!Number.isFinite(value)) throw refuse(cursor, 'not-a-number', 'a number that can be held', match[0]);
  cursor.at += match[0].length;
  return value;
}

function skipBlank(cursor: Cursor): void {
  const { text } = cursor;
  for (;;) {
    const code = text.charCodeAt(cursor.at);
    if (code !== 0x20 && code !== 0x0a && code !== 0x0d && code !== 0x09) return;
    cursor.at++;
  }
}

function take(cursor: Cursor, sign: string): boolean {
  if (cursor.text[cursor.at] !== sign) return false;
  cursor.at++;
  return true;
}

function refuse(cursor: Cursor, code: InputErrorCode, expected: string, got?: string): InputError {
  const { text, at } = cursor;
  const ended = at >= text.length;
  const lineStart = text.lastIndexOf('\n', at - 1) + 1;
  let line = 1;
  for (let i = text.indexOf('\n'); i !== -1 && i < at; i = text.indexOf('\n', i + 1)) line++;
  return new InputError({
    code: ended && code === 'malformed' ? 'truncated' : code,
    field: `line ${line}, column ${at - lineStart + 1}`,
    got: ended ? 'the end of the file' : showGot(got ?? text.slice(at, at + 24)),
    expected,
    remedy: ended ? 'The file was cut short: fetch it again' : 'Mend the file at that place',
  });
}
