import { existsSync, readdirSync, readFileSync } from 'node:fs';
import {
  type BackDocument,
  type BackSurface,
  BENCH_SCHEMA,
  buildBack,
  buildTree,
  InputError,
  parseJson,
  type Random,
  readBack,
  readBench,
  readLesson,
  readPattern,
  readSetup,
  resolvePattern,
  SETUP_DEFAULTS,
  sampleBars,
  seededRandom,
  stackLayers,
} from '@barwright/geometry';
import { describe, expect, it } from 'vitest';

const EXAMPLES = new URL('../examples/', import.meta.url);
const MUTANTS = 1500;
/** Of documents that are built too, each some 20 ms. */
const BUILT_MUTANTS = 700;

/** Documents that are mutated as bytes, and what reads each. */
const TEXTS: readonly (readonly [string, (json: unknown) => unknown])[] = [
  ['post.pattern.json', (json) => resolvePattern(readPattern(json))],
  ['heron.back.json', (json) => readBack(json)],
  ['tuesday-scan.back.json', (json) => readBack(json)],
  ['two-lengths.lesson.json', (json) => readLesson(json)],
];

const read = (name: string): unknown => parseJson(readFileSync(new URL(name, EXAMPLES)), name);
const named = (ending: string): unknown[] =>
  readdirSync(EXAMPLES)
    .filter((name) => name.endsWith(ending))
    .map(read);

/** Values that have broken readers before: wrong kinds, edges of ranges, names with a meaning, numbers as words. */
const STRANGE: readonly unknown[] = [
  null,
  true,
  '',
  ' ',
  '12',
  '1/0',
  'NaN',
  'length',
  'flat',
  '22-1/4',
  '9^9^9',
  '<script>',
  '../../x',
  '\u2028',
  -0,
  0,
  -1,
  1e-300,
  1e300,
  2 ** 53,
  Number.MAX_VALUE,
  [],
  {},
  [[]],
  [null],
  { schema: 'x' },
  'a'.repeat(300),
  '\u0000',
];

/** A copy with one to three places changed: replaced, deleted, doubled, renamed or scaled. */
function mutate(document: unknown, random: Random): unknown {
  const copy = structuredClone(document);
  const times = 1 + Math.floor(3 * random());
  for (let i = 0; i < times; i++) mutateOnce(copy, random);
  return copy;
}

function mutateOnce(root: unknown, random: Random): void {
  const places: { parent: Record<string, unknown>; key: string }[] = [];
  const visit = (value: unknown): void => {
    if (typeof value !== 'object' || value === null) return;
    for (const key of Object.keys(value)) {
      places.push({ parent: value as Record<string, unknown>, key });
      visit((value as Record<string, unknown>)[key]);
    }
  };
  visit(root);
  const { parent, key } = places[Math.floor(random() * places.length)]!;
  const value = parent[key];
  const way = random();
  if (way < 0.4) parent[key] = structuredClone(STRANGE[Math.floor(random() * STRANGE.length)]);
  else if (way < 0.55) delete parent[key];
  else if (way < 0.65) parent[`${key}x`] = value;
  else if (way < 0.75 && Array.isArray(value)) value.push(structuredClone(value[0]));
  else if (typeof value === 'number') parent[key] = value * (random() < 0.5 ? -1 : 10 ** (8 * random() - 4));
  else parent[key] = [value];
}

/** Runs a reader over mutants: every outcome is an InputError with its parts, or an accepted document. */
function survivors<T>(
  documents: readonly unknown[],
  seed: number,
  use: (json: unknown) => T,
  mutants: number = MUTANTS,
): { accepted: T[]; refused: number } {
  const random = seededRandom(seed);
  const accepted: T[] = [];
  let refused = 0;
  for (let i = 0; i < mutants; i++) {
    try {
      accepted.push(use(mutate(documents[i % documents.length], random)));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      expect(error.details.expected.length).toBeGreaterThan(0);
      expect(error.details.remedy.length).toBeGreaterThan(0);
      refused++;
    }
  }
  // Neither side may be empty, or the test says nothing.
  expect(accepted.length).toBeGreaterThan(20);
  expect(refused).toBeGreaterThan(200);
  return { accepted, refused };
}

describe('mutated documents are refused by name or give finite shapes', () => {
  it('patterns (seed 6101)', () => {
    const { accepted } = survivors(named('.pattern.json'), 6101, (json) =>
      buildTree(resolvePattern(readPattern(json))),
    );
    for (const tree of accepted.filter((_, i) => i % 5 === 0)) {
      const samples = sampleBars(tree.left, tree.right, { samples: 400 });
      expect(samples.pointsMm.every(Number.isFinite)).toBe(true);
      expect(samples.normals.every(Number.isFinite)).toBe(true);
      expect(samples.areaMm2.every((a) => a >= 0)).toBe(true);
    }
  });

  it('backs (seed 6102)', () => {
    const { accepted } = survivors<BackDocument>(named('.back.json'), 6102, (json) => readBack(json));
    const sections = accepted.filter((back) => back.kind === 'sections');
    let built = 0;
    for (const document of sections.slice(0, 40)) {
      try {
        const back = buildBack(document);
        expect(Number.isFinite(back.heightMm(200, 100))).toBe(true);
        expect(Number.isFinite(back.landmarks.lowPoint[2])).toBe(true);
        built++;
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
      }
    }
    expect(built).toBeGreaterThan(10);
  });

  it('tracings (seed 6105): each that is read is built too, asked about or refused', () => {
    const { accepted, refused } = survivors(
      [tracedTuesday()],
      6105,
      (json) => {
        const document = readBack(json);
        const back = buildBack(document);
        return { back, uncertaintyMm: back.uncertaintyAt!(250) };
      },
      BUILT_MUTANTS,
    );
    for (const { back, uncertaintyMm } of accepted) {
      expect(Object.values(back.landmarks).flat().filter(Number.isNaN)).toEqual([]);
      const height = back.heightMm(250, 100);
      expect(Number.isNaN(height) || Math.abs(height) < 5000).toBe(true);
      expect(Number.isNaN(uncertaintyMm) || uncertaintyMm >= 0).toBe(true);
    }
    expect(accepted.length + refused).toBe(BUILT_MUTANTS);
  });

  it('scans (seed 6106): those whose landmarks lie near the mesh are built on it', () => {
    const horse = buildBack(readBack(read('tuesday.back.json')));
    const mesh = horse.drawingMesh();
    const { accepted } = survivors([scanOf(horse)], 6106, (json) => readBack(json));
    let built = 0;
    let refused = 0;
    for (const document of accepted.filter(isNearScan).slice(0, 60)) {
      try {
        const back = buildBack(document, { mesh });
        expect([...back.fileToHorse, ...back.landmarks.lowPoint].filter((v) => !Number.isFinite(v))).toEqual([]);
        expect(Math.abs(back.heightMm(200, 100))).toBeLessThan(1000);
        built++;
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        refused++;
      }
    }
    expect([built > 10, refused > 0]).toEqual([true, true]);
  });

  it.each(TEXTS)('%s as bytes (seed 6107): cut, bits turned, pieces moved, numbers replaced', (name, use) => {
    const source = readFileSync(new URL(name, EXAMPLES)).subarray(0, 12_000);
    const random = seededRandom(6107);
    const tally = { taken: 0, refused: 0 };
    for (let i = 0; i < MUTANTS; i++) {
      try {
        expect(use(parseJson(mutateBytes(source, random), name))).toBeInstanceOf(Object);
        tally.taken++;
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        expect(error.details.remedy.length).toBeGreaterThan(0);
        tally.refused++;
      }
    }
    expect(tally.taken).toBeGreaterThan(20);
    expect(tally.refused).toBeGreaterThan(200);
  });

  it('setups (seed 6103)', () => {
    const full = JSON.parse(JSON.stringify(SETUP_DEFAULTS)) as unknown;
    const { accepted } = survivors([full], 6103, (json) => readSetup(json));
    for (const setup of accepted) expect(stackLayers(setup.layers).stiffness).toBeGreaterThan(0);
  });

  it('lessons (seed 6104)', () => {
    const { accepted } = survivors(named('.lesson.json'), 6104, (json) => readLesson(json));
    for (const lesson of accepted) expect(lesson.steps.length).toBeGreaterThan(0);
  });

  it('whole benches (seed 6108): what is accepted holds documents that their own readers take', () => {
    const { accepted } = survivors([wholeBench()], 6108, (json) => readBench(json), 400);
    for (const { bench, pattern, back } of accepted) {
      expect([readPattern(bench.pattern), readBack(bench.back.document)]).toEqual([pattern, back]);
    }
  });
});

function wholeBench(): unknown {
  const lesson = {
    document: read('two-lengths.lesson.json'),
    step: 0,
    patterns: Object.fromEntries(readNames('.pattern.json')),
    backs: Object.fromEntries(readNames('.back.json').map(([name, document]) => [name, { document, mesh: null }])),
  };
  return {
    schema: BENCH_SCHEMA,
    name: 'Post on Heron',
    pattern: read('post.pattern.json'),
    back: { document: read('heron.back.json'), mesh: null },
    setup: JSON.parse(JSON.stringify(SETUP_DEFAULTS)),
    look: { stationXMm: 120, isLaidOn: true },
    lesson,
  };
}

/** Few of them, so that most mutations hit the bench's own level. */
const readNames = (ending: string): [string, unknown][] =>
  ['wren', 'dumpling']
    .map((name) => name + ending)
    .filter((name) => existsSync(new URL(name, EXAMPLES)))
    .map((name) => [name, read(name)]);

/** Sections each 100 mm with a point each 24 mm, and a topline: few numbers, so that most mutations hit one that counts. */
function tracedTuesday(): unknown {
  const horse = buildBack(readBack(read('tuesday.back.json')));
  const across = [0, 100, 200, 300, 400, 500].map((x, i) => ({
    id: `s${i}`,
    kind: 'cross',
    stationMm: x,
    level: { point: [0, 0] },
    points: Array.from({ length: 19 }, (_, k) => [24 * k - 216, horse.heightMm(x, 24 * k - 216)]),
  }));
  const topline = Array.from({ length: 11 }, (_, k) => [50 * k, 0, horse.heightMm(50 * k, 0)]);
  return {
    schema: 'barwright/back/1',
    kind: 'tracings',
    name: 'traced',
    unit: 'mm',
    curves: [...across, { id: 'topline', kind: 'lengthwise', points: topline }],
    landmarks: { lastRib: [...horse.landmarks.lastRib] },
    answers: {},
    measured: { by: 'made', on: '2024-05-01', uncertaintyMm: 1, uncertaintyDeg: 1 },
  };
}

function scanOf(horse: BackSurface): unknown {
  const { proposed: _, ...landmarks } = horse.landmarks;
  return JSON.parse(
    JSON.stringify({
      schema: 'barwright/back/1',
      kind: 'scan',
      name: 'scanned',
      mesh: 'a.ply',
      unit: 'mm',
      axes: { tail: '+x', right: '+y', up: '+z' },
      turn: [1, 0, 0, 0, 1, 0, 0, 0, 1],
      landmarks,
      measured: { by: 'made', on: '2024-05-01', uncertaintyMm: 1, uncertaintyDeg: 1 },
    }),
  );
}

/** Landmarks within 10 m: the search for the frame walks from one to the other. */
const isNearScan = (document: BackDocument): boolean =>
  document.kind === 'scan' &&
  Object.values(document.landmarks)
    .flatMap((p) => p ?? [])
    .every((v) => Math.abs(v) < 10_000);

function mutateBytes(source: Uint8Array, random: Random): Uint8Array {
  let bytes: Uint8Array = Uint8Array.from(source);
  const below = (n: number): number => Math.floor(random() * n);
  for (let changes = 1 + below(3); changes > 0; changes--) {
    const at = below(bytes.length);
    const kind = below(10);
    if (kind === 0) bytes = bytes.slice(0, at + 1);
    else if (kind === 1) bytes[at]! ^= 1 << below(8);
    else if (kind === 2) bytes = splice(bytes, at, below(12), bytes.slice(below(bytes.length)).slice(0, below(40)));
    else bytes = replaceNumber(bytes, at, NUMBERS[below(NUMBERS.length)]!);
  }
  return bytes;
}

const NUMBERS = ['0', '-0', '1', '7.25', '-3', '1e3', '1e-3', '12', '1e400', '01', '.5', '"9"', 'NaN', '1e-320'];

function splice(bytes: Uint8Array, at: number, drop: number, piece: Uint8Array): Uint8Array {
  return Uint8Array.of(...bytes.subarray(0, at), ...piece, ...bytes.subarray(at + drop));
}

/** The first run of digits at or behind `at`. */
function replaceNumber(bytes: Uint8Array, at: number, text: string): Uint8Array {
  const isDigit = (byte: number): boolean => byte >= 48 && byte <= 57;
  const start = bytes.findIndex((byte, i) => i >= at && isDigit(byte));
  if (start < 0) return bytes;
  const length = bytes.subarray(start).findIndex((byte) => !isDigit(byte));
  return splice(bytes, start, length < 0 ? bytes.length - start : length, new TextEncoder().encode(text));
}
