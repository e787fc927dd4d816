import * as z from 'zod';
import { type BackDocument, readBack } from '../back/index.ts';
import { InputError, JSON_LIMITS, type JsonLimits } from '../numeric/index.ts';
import { checkDocument, type PatternDocument, readPattern } from '../pattern/index.ts';
import { readSetup, type Setup } from '../seating/index.ts';
import { fileName, type LessonDocument, lessonFiles, readLesson } from './lesson-schema.ts';

export const BENCH_SCHEMA = 'barwright/bench/1';

/** A bench carries a scan of up to some 100 MB as text. */
export const BENCH_LIMITS: Readonly<JsonLimits> = Object.freeze({ ...JSON_LIMITS, maxSize: 160 * 1024 * 1024 });

const document = z.record(z.string().max(120), z.unknown());

/** A back with the scan that it names, if any: the scan's own bytes in base64 (RFC 4648). */
const carriedBack = z.strictObject({
  document,
  mesh: z.strictObject({ fileName, base64: z.base64() }).nullable().default(null),
});

/** How it was looked at; each program takes what it knows of it. */
const look = z.strictObject({
  stationXMm: z.number().min(-2000).max(3000).optional(),
  isLaidOn: z.boolean().optional(),
  colour: z.string().min(1).max(30).optional(),
  from: z.string().min(1).max(30).optional(),
});

const carriedLesson = z.strictObject({
  document,
  step: z.int().min(0).max(59),
  patterns: z.record(fileName, document),
  backs: z.record(fileName, carriedBack),
});

/** Everything that lies on a bench in one document: to be kept, handed on, or opened elsewhere. */
export const benchSchema = z.strictObject({
  schema: z.literal(BENCH_SCHEMA),
  name: z.string().min(1).max(200),
  pattern: document,
  back: carriedBack,
  setup: document,
  look: look.default({}),
  lesson: carriedLesson.nullable().default(null),
});

export type BenchDocument = z.output<typeof benchSchema>;
export type CarriedBack = z.output<typeof carriedBack>;

/** A bench document and what each document in it reads as. */
export interface ReadBench {
  readonly bench: BenchDocument;
  readonly pattern: PatternDocument;
  readonly back: BackDocument;
  readonly setup: Setup;
  readonly lesson: LessonDocument | null;
}

/**
 * A bench document from parsed JSON, with every document in it read as if it lay in a file of its own. A scan's bytes are
 * not looked into here.
 *
 * @throws InputError as checkDocument and each document's own reader do, the field named from the bench's own level;
 * 'missing' where a scan, or a document that the lesson names, is not carried
 */
export function readBench(json: unknown, file?: string): ReadBench {
  const named = file === undefined ? {} : { file };
  const bench = checkDocument(benchSchema, json, { schemaName: BENCH_SCHEMA, ...named });
  const within = <T>(field: string, read: () => T): T => readWithin(field, file, read);
  const pattern = within('pattern', () => readPattern(bench.pattern));
  const setup = within('setup', () => readSetup(bench.setup));
  const back = within('back', () => readCarried(bench.back));
  const { lesson } = bench;
  const read = lesson && within('lesson', () => readLesson(lesson.document));
  if (lesson !== null && read !== null) within('lesson', () => checkCarriedLesson(lesson, read));
  return { bench, pattern, back, setup, lesson: read };
}

function readCarried({ document, mesh }: CarriedBack): BackDocument {
  const back = readBack(document);
  if (back.kind === 'scan' && mesh?.fileName !== back.mesh) throw notCarried(back.mesh, 'the scan that the back names');
  return back;
}

function checkCarriedLesson(carried: NonNullable<BenchDocument['lesson']>, lesson: LessonDocument): void {
  const { patterns, backs } = lessonFiles(lesson);
  const absent = [
    ...patterns.filter((name) => !Object.hasOwn(carried.patterns, name)),
    ...backs.filter((name) => !Object.hasOwn(carried.backs, name)),
  ];
  if (absent[0] !== undefined) throw notCarried(absent[0], 'every document that the lesson names');
  for (const name of patterns) readPattern(carried.patterns[name]);
  for (const name of backs) readCarried(carried.backs[name]!);
  if (carried.step < lesson.steps.length) return;
  throw new InputError({
    code: 'out-of-range',
    field: 'step',
    got: String(carried.step),
    expected: `a step of the lesson, 0 to ${lesson.steps.length - 1}`,
    remedy: 'Save the bench again with the lesson open at a step',
  });
}

const notCarried = (name: string, expected: string): InputError =>
  new InputError({
    code: 'missing',
    got: name.slice(0, 60),
    expected,
    remedy: 'Save the whole bench again from where its parts are open',
  });

/** An error inside a carried document says where it lies in the whole. */
function readWithin<T>(field: string, file: string | undefined, read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const inner = error.details.field;
    const placed = new InputError({
      ...error.details,
      field: inner === undefined || inner === '' ? field : `${field}.${inner}`,
    });
    throw file === undefined ? placed : placed.inFile(file);
  }
}

/** JSON Schema (draft 2020-12) of a bench document; what it carries has schemas of its own. */
export function benchJsonSchema(): unknown {
  return z.toJSONSchema(benchSchema, { io: 'input' });
}
