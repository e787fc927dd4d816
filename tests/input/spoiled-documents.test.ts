import { readFileSync } from 'node:fs';
import {
  buildBack,
  checkTracings,
  type InputErrorCode,
  parseJson,
  readBack,
  readLesson,
  readPattern,
  readSetup,
  readTracingsCsv,
  readTracingsSvg,
  remeasureDue,
  SETUP_DEFAULTS,
  type TracingsBackDocument,
} from '@barwright/geometry';
import { describe, expect, it } from 'vitest';
import { HORSE, refusal, scanDocument } from './horse-scan.fixture.ts';

/** Documents spoiled in the ways of the list of hostile inputs, by its numbers; common practice, no source. */
const sections = json('heron.back.json');
const scan: Json = JSON.parse(JSON.stringify(scanDocument()));
const tracings: Json = JSON.parse(JSON.stringify(tracedHeron()));
const setup: Json = JSON.parse(JSON.stringify(SETUP_DEFAULTS));
const READERS: Readonly<Record<string, readonly [good: Json, read: (json: unknown) => unknown]>> = {
  pattern: [json('post.pattern.json'), (value) => readPattern(value)],
  sections: [sections, (value) => buildBack(readBack(value))],
  scan: [scan, (value) => readBack(value)],
  tracings: [tracings, (value) => buildBack(readBack(value))],
  setup: [setup, (value) => readSetup(value)],
  lesson: [json('two-lengths.lesson.json'), (value) => readLesson(value)],
};

type Json = Record<string, unknown>;

describe.each(Object.entries(READERS))('%s', (_, [good, read]) => {
  it('is taken unspoiled', () => {
    expect(read(structuredClone(good))).toBeInstanceOf(Object);
  });

  it.each([null, [], [good], '', '{}', 7, true, undefined])('26 %j for a document: wrong-type', (value) => {
    expect(refusal(() => read(value)).code).toBe('wrong-type');
  });

  it('32 own keys that reach the prototype, on top and nested: forbidden, and nothing is reached', () => {
    for (const key of ['__proto__', 'constructor', 'prototype']) {
      const spoil = `{"${key}":{"polluted":1}}`;
      const top = { ...good };
      Object.defineProperty(top, key, { value: { polluted: 1 }, enumerable: true });
      expect(refusal(() => read(top)).code).toBe('forbidden');
      expect(refusal(() => read({ ...good, name: JSON.parse(spoil) })).code).toBe('forbidden');
      expect(refusal(() => parseJson(spoil)).code).toBe('forbidden');
    }
    expect(Object.hasOwn(Object.prototype, 'polluted')).toBe(false);
  });

  it('33 a key of a megabyte, and 200,000 keys: refused by name, shortened', () => {
    const long = 'k'.repeat(1_000_000);
    const error = refusal(() => read({ ...good, [long]: 1 }));
    expect(error.code).toBe('unknown-field');
    expect(error.message.length).toBeLessThan(1000);
    const many = Object.fromEntries(Array.from({ length: 200_000 }, (_, i) => [`k${i}`, i]));
    const other = refusal(() => read({ ...good, ...many }));
    expect(other.code).toBe('unknown-field');
    expect(other.message.length).toBeLessThan(1000);
  });

  it('34 a future version, another document, a number for its schema: unknown-schema; none: missing', () => {
    for (const schema of ['barwright/back/2', 'barwright/pattern/9', 'other/x/1', '', 1]) {
      expect(refusal(() => read({ ...good, schema })).code).toBe('unknown-schema');
    }
    const { schema: _schema, ...without } = good;
    expect(refusal(() => read(without)).code).toBe('missing');
  });

  it('35 a field too many: unknown-field; each one left out: missing, or it was not needed', () => {
    expect(refusal(() => read({ ...good, colour: 'bay' })).code).toBe('unknown-field');
    for (const key of Object.keys(good)) {
      const { [key]: _left, ...without } = good;
      const outcome = attempt(() => read(without));
      expect(['taken', 'missing', 'ambiguous', 'unknown-name']).toContain(outcome);
    }
  });
});

function attempt(work: () => unknown): string {
  try {
    work();
    return 'taken';
  } catch {
    return refusal(work).code;
  }
}

const measured = { by: 'x', on: '2024-05-01', uncertaintyMm: 1, uncertaintyDeg: 1 };
const curve = (change: Json): Json => ({
  ...tracings,
  curves: (tracings.curves as Json[]).map((c, i) => (i === 2 ? { ...c, ...change } : c)),
});

/** Which document, what of it, and the refusal. */
const SPOILED: readonly [name: string, kind: keyof typeof READERS, json: Json, code: InputErrorCode][] = [
  ['30 a number as words', 'scan', { ...scan, measured: { ...measured, uncertaintyMm: '12' } }, 'wrong-type'],
  ['30 a number as words', 'sections', { ...sections, usableLengthMm: '500' }, 'wrong-type'],
  ['30 Infinity', 'sections', { ...sections, usableLengthMm: Number.POSITIVE_INFINITY }, 'not-a-number'],
  ['30 NaN', 'scan', { ...scan, landmarks: { lastRib: [1, Number.NaN, 2] } }, 'not-a-number'],
  ['30 NaN', 'tracings', curve({ stationMm: Number.NaN }), 'not-a-number'],
  [
    '36 a ragged table',
    'sections',
    { ...sections, slopeDeg: (sections.slopeDeg as number[][]).map((row, i) => (i === 1 ? row.slice(1) : row)) },
    'inconsistent',
  ],
  [
    '36 a table one row short',
    'sections',
    { ...sections, slopeDeg: (sections.slopeDeg as number[][]).slice(1) },
    'inconsistent',
  ],
  [
    '36 heights one short',
    'sections',
    { ...sections, bearingHeightMm: (sections.bearingHeightMm as number[]).slice(1) },
    'inconsistent',
  ],
  [
    '36 a hole in a list',
    'sections',
    { ...sections, stationsMm: Object.assign(new Array<number>(3), { 0: 0, 2: 100 }) },
    'missing',
  ],
  ['36 a landmark of two numbers', 'scan', { ...scan, landmarks: { lastRib: [1, 2] } }, 'out-of-range'],
  ['36 a landmark of words', 'scan', { ...scan, landmarks: { lastRib: ['1', '2', '3'] } }, 'wrong-type'],
  [
    '36 points of two and three numbers',
    'tracings',
    curve({
      points: [
        [0, 0],
        [1, 2, 3],
        [4, 5],
      ],
    }),
    'wrong-type',
  ],
  ['36 a turn of eight numbers', 'scan', { ...scan, turn: [1, 0, 0, 0, 1, 0, 0, 0] }, 'out-of-range'],
  ['37 no length', 'sections', { ...sections, usableLengthMm: 0 }, 'out-of-range'],
  ['37 a negative uncertainty', 'scan', { ...scan, measured: { ...measured, uncertaintyMm: -1 } }, 'out-of-range'],
  ['37 a huge length', 'sections', { ...sections, usableLengthMm: 1e12 }, 'out-of-range'],
  [
    '37 stations that fall',
    'sections',
    { ...sections, stationsMm: [...(sections.stationsMm as number[])].reverse() },
    'inconsistent',
  ],
  ['38 no points', 'tracings', curve({ points: [] }), 'wrong-type'],
  ['38 one point', 'tracings', curve({ points: [[1, 2]] }), 'out-of-range'],
  [
    '38 two points',
    'tracings',
    curve({
      points: [
        [1, 2],
        [3, 4],
      ],
    }),
    'out-of-range',
  ],
  ['38 a point many times', 'tracings', curve({ points: Array.from({ length: 9 }, () => [1, 2]) }), 'degenerate'],
  [
    '39 a figure of eight',
    'tracings',
    curve({
      points: [
        [-100, -30],
        [100, 30],
        [100, -30],
        [-100, 30],
      ],
    }),
    'inconsistent',
  ],
  [
    '40 a second section at the same station',
    'tracings',
    { ...tracings, curves: [...(tracings.curves as Json[]), { ...(tracings.curves as Json[])[1], id: 'again' }] },
    'ambiguous',
  ],
  ['41 a mesh up a folder', 'scan', { ...scan, mesh: '../a.ply' }, 'wrong-type'],
  ['41 a mesh down a folder', 'scan', { ...scan, mesh: 'b/a.ply' }, 'wrong-type'],
  ['41 a mesh by backslash', 'scan', { ...scan, mesh: 'b\\a.ply' }, 'wrong-type'],
  ['41 a mesh by address', 'scan', { ...scan, mesh: 'http://example.com/a.ply' }, 'wrong-type'],
  ['41 a mesh by file:', 'scan', { ...scan, mesh: 'file:///a.ply' }, 'wrong-type'],
  ['41 a mesh of dots', 'scan', { ...scan, mesh: '..' }, 'wrong-type'],
  ['42 two curves of one name', 'tracings', curve({ id: 's0' }), 'inconsistent'],
  ['44 no unit', 'scan', Object.fromEntries(Object.entries(scan).filter(([key]) => key !== 'unit')), 'missing'],
  ['44 an unknown unit', 'scan', { ...scan, unit: 'furlong' }, 'wrong-type'],
  ['44 a unit of another width', 'tracings', { ...tracings, unit: 'm' }, 'ambiguous'],
  ['45 a name of 64 kB', 'sections', { ...sections, name: 'a'.repeat(65_536) }, 'too-long'],
  ['45 a curve name of 64 kB', 'tracings', curve({ id: 'a'.repeat(65_536) }), 'too-long'],
  ['45 no name', 'scan', { ...scan, name: '' }, 'empty'],
];

describe('single fields', () => {
  it.each(SPOILED)('%s in %s', (_, kind, value, code) => {
    const { details } = refusal(() => READERS[kind]![1](value));
    expect(details.code).toBe(code);
    for (const part of [details.field, details.expected, details.remedy]) expect(part?.length).toBeGreaterThan(0);
  });

  it('37 a day that no calendar has is refused where it is used', () => {
    const { details } = refusal(() => remeasureDue({ measured: { on: '2024-13-41' } }, '2026-01-01'));
    expect([details.code, details.field]).toEqual(['out-of-range', 'measured.on']);
  });

  it('29 minus zero and denormals are taken for the numbers they are', () => {
    const heights = (sections.bearingHeightMm as number[]).map((z, i) => (i === 3 ? z + 1e-320 : z === 0 ? -0 : z));
    const back = buildBack(readBack({ ...sections, bearingHeightMm: heights }));
    expect(back.heightMm(200, 100)).toBe(buildBack(readBack(sections)).heightMm(200, 100));
  });

  it('40 a section that runs askew of its station, through the next one, is said', () => {
    const points = Array.from({ length: 39 }, (_, k): [number, number, number] => {
      const y = 12 * k - 228;
      return [100 + 0.3 * y, y, HORSE.heightMm(100 + 0.3 * y, y)];
    });
    const { stationMm: _station, level: _level, ...askew } = (tracings.curves as Json[])[2]!;
    const curves = (tracings.curves as Json[]).map((c, i) => (i === 2 ? { ...askew, points } : c));
    const document = readBack({ ...tracings, curves });
    if (document.kind !== 'tracings') throw new Error('not tracings');
    const answers = Object.fromEntries(checkTracings(document).map((question) => [question.id, 'keep']));
    expect(buildBack({ ...document, answers }).warnings.join(' ')).toMatch(/s2: its points lie up to 68 mm ahead/);
  });

  it('42 an answer to a question that does not arise is said', () => {
    const back = buildBack(readBack({ ...tracings, answers: { 'left-right:s7': 'keep' } }));
    expect(back.warnings.join(' ')).toContain('do not arise: left-right:s7');
  });

  it('45 any writing in a name, of curves too, is kept as it is', () => {
    const name = '\u{1f40e} Ä \u05d0 <script>alert(1)</script> "&\u202e';
    expect(buildBack(readBack({ ...sections, name })).name).toBe(name);
    const curves = curve({ id: name }).curves as Json[];
    expect(buildBack(readBack({ ...tracings, curves })).warnings.length).toBeGreaterThan(0);
  });
});

const asked = { name: 'a', unit: 'mm' as const, measured };
const CSV = (tracings.curves as { id: string; stationMm: number; points: number[][] }[])
  .flatMap((c) => c.points.map(([y, z]) => `${c.id},${c.stationMm},${y},${z}`))
  .join('\n');
const SVG = '<svg width="210mm" height="100mm" viewBox="0 0 210 100"><path id="a" d="M0 0L10 5L20 0"/></svg>';

describe('27 tracings as text', () => {
  const utf16 = (text: string): Uint8Array => new Uint8Array(Buffer.from(`\ufeff${text}`, 'utf16le'));
  const utf8 = (text: string): Uint8Array => new Uint8Array(Buffer.from(text, 'utf8'));

  it('27 a byte-order mark in front changes nothing', () => {
    const text = `curve,x,y,z\n${CSV}`;
    const plain = readTracingsCsv(utf8(text), 'a.csv', asked).document;
    expect(plain.curves.length).toBe(10);
    expect(readTracingsCsv(utf8(`\ufeff${text}`), 'a.csv', asked).document).toEqual(plain);
    const drawn = readTracingsSvg(utf8(SVG), 'a.svg', asked).document;
    expect(readTracingsSvg(utf8(`\ufeff${SVG}`), 'a.svg', asked).document).toEqual(drawn);
  });

  it.each([
    ['UTF-16', (text: string) => utf16(text), 'malformed'],
    ['bytes that are no UTF-8', (text: string) => Uint8Array.of(...utf8(text), 0xc3, 0x28), 'malformed'],
    ['1 no byte', () => new Uint8Array(0), 'empty'],
  ] as const)('27 %s: refused', (_, spoil, code) => {
    expect(refusal(() => readTracingsCsv(spoil(`curve,x,y,z\n${CSV}`), 'a.csv', asked)).code).toBe(code);
    expect(refusal(() => readTracingsSvg(spoil(SVG), 'a.svg', asked)).code).toBe(code);
  });

  it('27 zero bytes within a number and within a name', () => {
    expect(refusal(() => readTracingsCsv(utf8('curve,x,y,z\na,1\0,2,3'), 'a.csv', asked)).code).toBe('not-a-number');
    expect(attempt(() => readTracingsSvg(utf8(SVG.replace('d="M0', 'd="M\0 0')), 'a.svg', asked))).toBe('malformed');
  });
});

function json(name: string): Json {
  return parseJson(readFileSync(new URL(`../../examples/${name}`, import.meta.url)), name) as Json;
}

function tracedHeron(): TracingsBackDocument {
  const curves = [0, 50, 100, 150, 200, 250, 300, 350, 400, 450].map((x, i) => ({
    id: `s${i}`,
    kind: 'cross' as const,
    stationMm: x,
    level: { point: [0, 0] },
    points: Array.from({ length: 39 }, (_, k): [number, number] => [12 * k - 228, HORSE.heightMm(x, 12 * k - 228)]),
  }));
  return {
    schema: 'barwright/back/1',
    kind: 'tracings',
    name: 'traced',
    unit: 'mm',
    curves,
    measured: { by: 'made from the demo back', on: '2024-05-01', uncertaintyMm: 1, uncertaintyDeg: 1 },
  };
}
