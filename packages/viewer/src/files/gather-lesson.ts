import { InputError, type LessonDocument } from '@barwright/geometry';
import { REFUSAL_TEXTS } from '../look/texts/refusals.ts';
import type { OpenedBack, OpenedLesson } from '../state/documents.ts';
import { demoBack, demoPattern } from './demos.ts';
import type { SortedFiles } from './sort-files.ts';

interface LessonReader {
  readLesson(json: unknown, file?: string): LessonDocument;
  lessonFiles(lesson: LessonDocument): { patterns: string[]; backs: string[] };
}

/**
 * A lesson with every document that its steps name: from the files opened with it, or from the demo shelf.
 * @throws InputError as readLesson does, and 'missing' naming what is nowhere
 */
export function gatherLesson(
  reader: LessonReader,
  json: unknown,
  file: string,
  opened: Pick<SortedFiles, 'patterns' | 'backs'>,
): Omit<OpenedLesson, 'step'> {
  const document = reader.readLesson(json, file);
  const names = reader.lessonFiles(document);
  const missing = (name: string): never => {
    throw new InputError({
      code: 'missing',
      file,
      field: 'steps',
      got: name,
      expected: REFUSAL_TEXTS.missingOfLesson.expected,
      remedy: REFUSAL_TEXTS.missingOfLesson.remedy(file, name),
    });
  };
  const patterns = names.patterns.map((name): [string, unknown] => [
    name,
    opened.patterns.find(({ fileName }) => fileName === name)?.json ??
      demoPattern(name.replace(/\.pattern\.json$/, '')) ??
      missing(name),
  ]);
  const backs = names.backs.map((name): [string, OpenedBack] => {
    const beside = opened.backs.find(({ fileName }) => fileName === name);
    if (beside !== undefined) return [name, { name: String(beside.json.name), json: beside.json, mesh: beside.mesh }];
    return [name, demoBack(name.replace(/\.back\.json$/, '')) ?? missing(name)];
  });
  return { document, patterns: Object.fromEntries(patterns), backs: Object.fromEntries(backs) };
}
