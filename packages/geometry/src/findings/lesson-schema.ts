import * as z from 'zod';
import { InputError } from '../numeric/index.ts';
import { checkDocument } from '../pattern/index.ts';

export const LESSON_SCHEMA = 'barwright/lesson/1';
/** What the name of a locked value of the setup begins with. */
const LOCKED_SETUP = 'setup.';

/** A file beside the lesson: no folder, so that a lesson can't reach out of its own. */
export const fileName = z
  .string()
  .min(1)
  .max(255)
  .regex(/^(?!\.{1,2}$)[^/\\:]+$/, 'a file name without a folder');

const key = z.string().min(1).max(80);
const value = z.union([z.number(), z.string().min(1).max(200)]);
const changes = z.record(key, value);

/** Places of the bench that a step can point at. */
const places = ['view', 'ruler', 'gap curve', 'load curve', 'cut', 'card', 'reading', 'map'] as const;

/** A question put before the step's sentence and figures are shown. Nothing in it says which answer is right: the figures do. */
const askSchema = z.strictObject({
  question: z.string().min(1).max(300),
  /** Answers to choose from; none: answered in words of one's own. */
  choices: z.array(z.string().min(1).max(160)).max(6).default([]),
});

const stepSchema = z.strictObject({
  title: z.string().min(1).max(120),
  /** What one expects, asked before the sentence and the figures. */
  ask: askSchema.optional(),
  sentence: z.string().min(1).max(600),
  /** A pattern file beside the lesson, or one with values changed. */
  pattern: z.union([fileName, z.strictObject({ base: fileName, set: changes })]),
  back: fileName,
  /** Values of the setup that differ from the default, by dotted key: load.riderKg, setPositionMm. */
  setup: changes.default({}),
  lookAt: z.enum(places),
  /** Values that the bench holds fast in this step and names as held: pattern values, and `setup.` with a dotted key. */
  locked: z.array(key).max(200).default([]),
});

/** A teaching sequence: one thing changes at a time, and the rest is said to be locked. */
export const lessonSchema = z.strictObject({
  schema: z.literal(LESSON_SCHEMA),
  name: z.string().min(1).max(120),
  sentence: z.string().min(1).max(600),
  /** Files the lesson needs beside it; may be left out, since the steps name them. */
  documents: z.array(fileName).max(100).default([]),
  steps: z.array(stepSchema).min(1).max(60),
});

export type LessonDocument = z.output<typeof lessonSchema>;
export type LessonStep = LessonDocument['steps'][number];
export type LessonAsk = NonNullable<LessonStep['ask']>;

/** A lesson document from parsed JSON. Throws InputError as checkDocument does, and 'inconsistent' for a locked value that is changed. */
export function readLesson(json: unknown, file?: string): LessonDocument {
  const lesson = checkDocument(lessonSchema, json, {
    schemaName: LESSON_SCHEMA,
    ...(file === undefined ? {} : { file }),
  });
  const wrong = changedThoughLocked(lesson);
  if (wrong === null) return lesson;
  throw file === undefined ? wrong : wrong.inFile(file);
}

/** A step that says a value is held, and changes it against the step before, teaches something false. */
function changedThoughLocked({ steps }: LessonDocument): InputError | null {
  for (const [i, step] of steps.entries()) {
    const last = steps[i - 1];
    if (last === undefined) continue;
    for (const name of step.locked) {
      if (isLeftAsItWas(last, step, name)) continue;
      return new InputError({
        code: 'inconsistent',
        field: `steps.${i}.locked`,
        got: name,
        expected: 'only values that this step leaves as they were in the step before',
        remedy: `Take ${name} out of the list, or leave it unchanged`,
      });
    }
  }
  return null;
}

function isLeftAsItWas(last: LessonStep, step: LessonStep, name: string): boolean {
  if (name.startsWith(LOCKED_SETUP)) {
    const key = name.slice(LOCKED_SETUP.length);
    return last.setup[key] === step.setup[key];
  }
  // Between two pattern files nothing can be said without reading them.
  return baseOf(last) !== baseOf(step) || changesOf(last)[name] === changesOf(step)[name];
}

const baseOf = ({ pattern }: LessonStep): string => (typeof pattern === 'string' ? pattern : pattern.base);

function changesOf({ pattern }: LessonStep): Readonly<Record<string, number | string>> {
  return typeof pattern === 'string' ? {} : pattern.set;
}

/** Every file that a lesson names, each once, in the order of the steps. */
export function lessonFiles(lesson: LessonDocument): { patterns: string[]; backs: string[] } {
  const patterns = lesson.steps.map(baseOf);
  return { patterns: [...new Set(patterns)], backs: [...new Set(lesson.steps.map(({ back }) => back))] };
}

/** JSON Schema (draft 2020-12) of a lesson document. */
export function lessonJsonSchema(): unknown {
  return z.toJSONSchema(lessonSchema, { io: 'input' });
}
