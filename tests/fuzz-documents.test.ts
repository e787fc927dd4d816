import { readdirSync, readFileSync } from 'node:fs';
import {
  type BackDocument,
  buildBack,
  buildTree,
  InputError,
  parseJson,
  type Random,
  readBack,
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
): { accepted: T[]; refused: number } {
  const random = seededRandom(seed);
  const accepted: T[] = [];
  let refused = 0;
  for (let i = 0; i < MUTANTS; i++) {
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

  it('setups (seed 6103)', () => {
    const full = JSON.parse(JSON.stringify(SETUP_DEFAULTS)) as unknown;
    const { accepted } = survivors([full], 6103, (json) => readSetup(json));
    for (const setup of accepted) expect(stackLayers(setup.layers).stiffness).toBeGreaterThan(0);
  });

  it('lessons (seed 6104)', () => {
    const { accepted } = survivors(named('.lesson.json'), 6104, (json) => readLesson(json));
    for (const lesson of accepted) expect(lesson.steps.length).toBeGreaterThan(0);
  });
});
