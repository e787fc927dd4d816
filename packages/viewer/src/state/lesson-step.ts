import type { Documents, OpenedLesson } from './documents.ts';
import type { Edited } from './editor.ts';

type Editor = Pick<typeof import('./editor.ts'), 'checkPattern' | 'editPatternBy' | 'editSetupBy'>;

/** The documents of a lesson's step: its pattern with its changes, its back, the default setup with its changes. */
export function applyLessonStep(editor: Editor, lesson: OpenedLesson, step: number): Edited<Documents> {
  const { steps } = lesson.document;
  const index = Math.min(steps.length - 1, Math.max(0, step));
  const asked = steps[index]!;
  const base = typeof asked.pattern === 'string' ? asked.pattern : asked.pattern.base;
  const changes = typeof asked.pattern === 'string' ? {} : asked.pattern.set;
  const read = editor.checkPattern(lesson.patterns[base], base);
  if (!read.ok) return read;
  const pattern = editor.editPatternBy(read.value, Object.entries(changes));
  if (!pattern.ok) return pattern;
  const setup = editor.editSetupBy(Object.entries(asked.setup));
  if (!setup.ok) return setup;
  const back = lesson.backs[asked.back]!;
  return { ok: true, value: { pattern: pattern.value, back, setup: setup.value, lesson: { ...lesson, step: index } } };
}
