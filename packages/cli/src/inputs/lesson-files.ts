import {
  InputError,
  JSON_LIMITS,
  type LessonDocument,
  lessonFiles,
  type PatternDocument,
  parseJson,
  readBack,
  readPattern,
  resolvePattern,
  SETUP_DEFAULTS,
} from '@barwright/geometry';
import { besideDocument, type InputFile, readInput } from '../files/input-file.ts';
import { namingFile } from './read-documents.ts';
import { SETUP_PREFIX, setupKeys } from './set-setup.ts';
import { applyChanges, type Change } from './settings.ts';

/**
 * Reads every file that a lesson names and makes every change of its steps, so that a lesson that checks out also plays.
 * Throws InputError naming the step.
 */
export async function checkLessonFiles(lesson: LessonDocument, input: InputFile): Promise<InputFile[]> {
  const { patterns, backs } = lessonFiles(lesson);
  const read: InputFile[] = [];
  const documents = new Map<string, PatternDocument>();
  const readBeside = async (name: string, role: 'pattern' | 'back'): Promise<unknown> => {
    const file = await readInput('/', await besideDocument(input, name, 'steps'), role, JSON_LIMITS.maxSize);
    read.push(file);
    return parseJson(file.bytes, file.file);
  };
  for (const name of patterns) documents.set(name, readPattern(await readBeside(name, 'pattern'), name));
  for (const name of backs) readBack(await readBeside(name, 'back'), name);
  for (const [i, step] of lesson.steps.entries()) namingStep(input.file, i, () => checkStep(step, documents));
  return read;
}

function checkStep(step: LessonDocument['steps'][number], documents: ReadonlyMap<string, PatternDocument>): void {
  const isFile = typeof step.pattern === 'string';
  const base = documents.get(isFile ? (step.pattern as string) : (step.pattern as { base: string }).base)!;
  const set = isFile ? [] : Object.entries((step.pattern as { set: Record<string, number | string> }).set);
  const setup = Object.entries(step.setup).map(([key, value]): Change => [SETUP_PREFIX + key, value]);
  const { pattern } = applyChanges({ pattern: base, setup: SETUP_DEFAULTS }, [...set, ...setup]);
  const { values } = resolvePattern(pattern);
  const unknown = step.locked.find((key) => !Object.hasOwn(values, key) && !isOfSetup(key));
  if (unknown === undefined) return;
  throw new InputError({
    code: 'unknown-name',
    field: 'locked',
    got: unknown,
    expected: 'names of values of the pattern, or of the setup with setup. before them',
    remedy: 'Take it out of the list, or mend its spelling',
  });
}

/** A value of the setup, or a whole part of it such as `setup.load`. */
function isOfSetup(locked: string): boolean {
  if (!locked.startsWith(SETUP_PREFIX)) return false;
  const key = locked.slice(SETUP_PREFIX.length);
  return setupKeys(SETUP_DEFAULTS).some((known) => known === key || known.startsWith(`${key}.`));
}

function namingStep(file: string, i: number, work: () => void): void {
  namingFile(file, () => {
    try {
      work();
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      const { field } = error.details;
      throw new InputError({ ...error.details, field: field === undefined ? `steps.${i}` : `steps.${i}.${field}` });
    }
  });
}
