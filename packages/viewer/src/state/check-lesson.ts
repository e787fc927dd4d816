import { InputError, showGot } from '@barwright/geometry';
import type { LessonDocument, LessonStep } from './documents.ts';

export const LESSON_SCHEMA = 'barwright/lesson/1';

const STEP_FIELDS: readonly (keyof LessonStep)[] = ['title', 'text', 'pattern', 'back', 'set', 'setup', 'view'];

/**
 * A lesson from parsed JSON: `{schema, name, notes?, steps: [{title?, text, pattern?, back?, set?, setup?, view?}]}`.
 * Patterns, backs and values that a step names are read when the step is shown.
 * @throws InputError missing, wrong-type, unknown-field, empty
 */
export function checkLesson(json: unknown, file?: string): LessonDocument {
  const refuse = (field: string, got: unknown, expected: string): never => {
    throw new InputError({
      code: got === undefined ? 'missing' : 'wrong-type',
      ...(file === undefined ? {} : { file }),
      field,
      ...(got === undefined ? {} : { got: showGot(got) }),
      expected,
      remedy: 'Mend the lesson file and open it again; the bench stays as it was.',
    });
  };
  const lesson = json as Partial<LessonDocument>;
  if (lesson.schema !== LESSON_SCHEMA) refuse('schema', lesson.schema, `"${LESSON_SCHEMA}"`);
  if (typeof lesson.name !== 'string' || lesson.name === '') refuse('name', lesson.name, 'the name of the lesson');
  if (!Array.isArray(lesson.steps) || lesson.steps.length === 0) refuse('steps', lesson.steps, 'a list of steps');
  const steps = lesson.steps as readonly unknown[];
  for (const [i, item] of steps.entries()) {
    if (typeof item !== 'object' || item === null) refuse(`steps.${i}`, item, 'a step with a text');
    const step = item as Partial<LessonStep>;
    if (typeof step.text !== 'string') refuse(`steps.${i}.text`, step.text, 'one sentence');
    const odd = Object.keys(step).find((key) => !(STEP_FIELDS as readonly string[]).includes(key));
    if (odd !== undefined) refuse(`steps.${i}.${odd}`, odd, `one of ${STEP_FIELDS.join(', ')}`);
    for (const part of ['set', 'setup', 'view'] as const)
      if (step[part] !== undefined && (typeof step[part] !== 'object' || step[part] === null))
        refuse(`steps.${i}.${part}`, step[part], 'names with their values');
  }
  return lesson as LessonDocument;
}
