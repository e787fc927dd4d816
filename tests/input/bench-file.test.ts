import { readFileSync } from 'node:fs';
import { BENCH_SCHEMA, InputError, type InputErrorDetails, parseJson, readBench } from '@barwright/geometry';
import { describe, expect, test } from 'vitest';

const bytes = (name: string): Buffer => readFileSync(new URL(`../../examples/${name}`, import.meta.url));
const read = (name: string) => parseJson(bytes(name)) as Record<string, unknown>;

const LESSON = 'two-lengths.lesson.json';
const WHOLE = {
  schema: BENCH_SCHEMA,
  name: 'Post on a scan',
  pattern: read('post.pattern.json'),
  back: {
    document: read('tuesday-scan.back.json'),
    mesh: { fileName: String(read('tuesday-scan.back.json').mesh), base64: Buffer.from('ply').toString('base64') },
  },
  setup: { schema: 'barwright/setup/1', name: 'Light', load: { riderKg: 60 } },
};

function refusal(json: unknown): InputErrorDetails {
  try {
    readBench(json, 'x.bench.json');
  } catch (error) {
    if (error instanceof InputError) return error.details;
    throw error;
  }
  throw new Error('it was read');
}

describe('a bench in one document', () => {
  test('reads as its documents do from their own files, defaults filled in', () => {
    const { pattern, back, setup, lesson, bench } = readBench(WHOLE, 'x.bench.json');
    expect([pattern.name, back.name, setup.load.riderKg, lesson]).toEqual(['Post', back.name, 60, null]);
    expect(setup.layers.length).toBeGreaterThan(0);
    expect(bench.back.mesh?.base64).toBe('cGx5');
  });

  test('a fault in a part is said with the place of the part', () => {
    const pattern = { ...WHOLE.pattern, values: { length: 'abc(' } };
    const setup = { ...WHOLE.setup, load: { riderKg: -4 } };
    expect(refusal({ ...WHOLE, setup })).toMatchObject({ file: 'x.bench.json', field: 'setup.load.riderKg' });
    expect(refusal({ ...WHOLE, setup, pattern: { ...pattern, schema: 'x' } })).toMatchObject({
      code: 'unknown-schema',
      field: expect.stringMatching(/^pattern/),
    });
  });

  test('a scan that is not carried, bytes that are no base64, a folder in a name and an unknown field are refused', () => {
    const { document, mesh } = WHOLE.back;
    expect(refusal({ ...WHOLE, back: { document } })).toMatchObject({ code: 'missing', got: mesh.fileName });
    expect(refusal({ ...WHOLE, back: { document, mesh: { ...mesh, base64: '%%%%' } } }).field).toBe('back.mesh.base64');
    expect(refusal({ ...WHOLE, back: { document, mesh: { ...mesh, fileName: '../x.ply' } } }).field).toBe(
      'back.mesh.fileName',
    );
    expect(refusal({ ...WHOLE, look: { theme: 'x' } }).code).toBe('unknown-field');
  });

  test('a lesson comes with all that its steps name, at a step that it has', () => {
    const document = read(LESSON);
    const steps = document.steps as { pattern: string | { base: string }; back: string }[];
    const patterns = Object.fromEntries(
      steps
        .map(({ pattern }) => (typeof pattern === 'string' ? pattern : pattern.base))
        .map((name) => [name, read(name)]),
    );
    const backs = Object.fromEntries(steps.map(({ back }) => [back, { document: read(back) }]));
    const lesson = { document, step: 1, patterns, backs };
    expect(readBench({ ...WHOLE, lesson }).lesson?.name).toBe(document.name);
    expect(refusal({ ...WHOLE, lesson: { ...lesson, backs: {} } })).toMatchObject({ code: 'missing', field: 'lesson' });
    expect(refusal({ ...WHOLE, lesson: { ...lesson, step: steps.length } })).toMatchObject({ field: 'lesson.step' });
  });
});
