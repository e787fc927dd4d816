import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from './input-error.ts';
import { parseJson } from './parse-json.ts';

const bytes = (...parts: (string | number[])[]) =>
  Uint8Array.from(parts.flatMap((part) => (typeof part === 'string' ? [...new TextEncoder().encode(part)] : part)));

function refusal(input: string | Uint8Array): InputError {
  try {
    parseJson(input, 'x.pattern.json');
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}

describe('parseJson', () => {
  it('gives what the built-in parser gives for any JSON value (seed 421)', () => {
    const keySafe = fc
      .jsonValue({ maxDepth: 6 })
      .filter((value) => !/__proto__|constructor|prototype/.test(JSON.stringify(value)));
    fc.assert(
      fc.property(keySafe, fc.constantFrom(undefined, 2, '\t'), (value, space) => {
        const text = JSON.stringify(value, null, space);
        expect(parseJson(text)).toEqual(JSON.parse(text));
        expect(parseJson(new TextEncoder().encode(text))).toEqual(JSON.parse(text));
      }),
      { seed: 421 },
    );
  });

  it('any text is parsed like the built-in parser or refused by a typed error (seed 422)', () => {
    const piece = fc.constantFrom(
      '{',
      '}',
      '[',
      ']',
      '"',
      ':',
      ',',
      '1',
      '-',
      '.',
      'e',
      'true',
      'null',
      ' ',
      '\\',
      'a',
      '\\u0041',
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 14 }), (pieces) => {
        const text = pieces.join('');
        let parsed: unknown;
        try {
          parsed = parseJson(text);
        } catch (error) {
          expect(error).toBeInstanceOf(InputError);
          if (['malformed', 'truncated', 'empty'].includes((error as InputError).code)) {
            expect(() => JSON.parse(text)).toThrow(SyntaxError);
          }
          return;
        }
        expect(parsed).toEqual(JSON.parse(text));
      }),
      { seed: 422, numRuns: 4000 },
    );
  });

  it('accepts a byte-order mark, minus zero and denormals', () => {
    expect(parseJson('\ufeff{"a":1}')).toEqual({ a: 1 });
    expect(parseJson(bytes([0xef, 0xbb, 0xbf], '[1]'))).toEqual([1]);
    expect(Object.is(parseJson('-0'), -0)).toBe(true);
    expect(parseJson('1e-320')).toBe(1e-320);
  });

  it.each<[string, string | Uint8Array, string]>([
    ['nothing', '', 'empty'],
    ['blanks', ' \n\t', 'empty'],
    ['a cut object', '{"a":1', 'truncated'],
    ['a cut text', '{"a":"b', 'truncated'],
    ['a trailing comma', '[1,]', 'malformed'],
    ['a second document', '{} {}', 'malformed'],
    ['NaN', '[NaN]', 'malformed'],
    ['Infinity', '[-Infinity]', 'malformed'],
    ['an octal', '[01]', 'malformed'],
    ['hex', '[0x10]', 'malformed'],
    ['a comment', '{} // x', 'malformed'],
    ['single quotes', "{'a':1}", 'malformed'],
    ['an unknown escape', '"\\x41"', 'malformed'],
    ['NUL in text', '"a\u0000b"', 'malformed'],
    ['NUL outside', '\u0000{}', 'malformed'],
    ['UTF-16', bytes([0xff, 0xfe], '{'), 'malformed'],
    ['invalid UTF-8', bytes('"', [0xc3, 0x28], '"'), 'malformed'],
    ['too large a number', '[1e999]', 'not-a-number'],
    ['a duplicate key', '{"a":1,"a":2}', 'duplicate-key'],
    ['a duplicate key in disguise', '{"a":1,"\\u0061":2}', 'duplicate-key'],
    ['__proto__', '{"__proto__":{"polluted":1}}', 'forbidden'],
    ['__proto__ in disguise', '{"x":[{"\\u005f_proto__":1}]}', 'forbidden'],
    ['constructor', '{"constructor":1}', 'forbidden'],
    ['prototype', '{"prototype":1}', 'forbidden'],
    ['200 000 levels', '['.repeat(200_000), 'too-large'],
    ['200 000 levels of objects', '{"a":'.repeat(200_000), 'too-large'],
    ['33 MB', new Uint8Array(33 * 1024 * 1024), 'too-large'],
  ])('refuses %s', (_, input, code) => {
    const error = refusal(input);
    expect(error.code).toBe(code);
    expect(error.details.file).toBe('x.pattern.json');
  });

  it('names the line and column', () => {
    expect(refusal('{\n  "a": 1,\n  "a": 2\n}').details.field).toBe('line 3, column 3');
  });

  it('accepts exactly 64 levels', () => {
    expect(JSON.stringify(parseJson('['.repeat(64) + ']'.repeat(64)))).toBe('['.repeat(64) + ']'.repeat(64));
    expect(refusal('['.repeat(65) + ']'.repeat(65)).code).toBe('too-large');
  });
});
