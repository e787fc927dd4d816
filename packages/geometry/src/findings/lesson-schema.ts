import * as z from 'zod';
import { InputError } from '../numeric/index.ts';
import { checkDocument } from '../pattern/index.ts';

export const LESSON_SCHEMA = 'barwright/lesson/1';

/** A file beside the lesson: no folder, so that a lesson can't reach out of its own. */
const fileName = z
  .string()
  .min(1)
  .max(255)
  .regex(/^(?!\.{1,2}$)[^/\\:]+$/, 'a file name without a folder');

const key = z.string().min(1).max(80);
const value = z.union([z.number(), z.string().min(1).max(200)]);
const changes = z.record(key, value);

/** Places of the bench that a step can point at. */
const places = ['view', 'ruler', 'gap curve', 'load curve', 'cut', 'card', 'reading', 'map'] as const;

const stepSchema = z.strictObject({
  title: z.string().min(1).max(120),
  sentence: z.string().min(1).max(600),
  /** A pattern file beside the lesson, or one with values changed. */
  pattern: z.union([fileName, z.strictObject({ base: fileName, set: changes })]),
  back: fileName,
  /** Values of the setup that differ from the default, by dotted key: load.riderKg, setPositionMm. */
  setup: changes.default({}),
  lookAt: z.enum(places),
  /** Pattern values that the bench holds fast in this step and names as held. */
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
    // Between two pattern files nothing can be said without reading them.
    if (last === undefined || baseOf(last) !== baseOf(step)) continue;
    const before = changesOf(last);
    const now = changesOf(step);
    for (const name of step.locked) {
      if (before[name] === now[name]) continue;
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
