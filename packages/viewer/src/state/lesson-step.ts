import { demoBack, demoPattern } from '../files/demos.ts';
import type { Documents, LessonDocument } from './documents.ts';
import type { Edited } from './editor.ts';

type Editor = Pick<typeof import('./editor.ts'), 'checkPattern' | 'editPattern' | 'editSetup'>;

/** The documents that a lesson's step asks for; what it doesn't name stays as it is. */
export function applyLessonStep(
  editor: Editor,
  now: Documents,
  lesson: LessonDocument,
  step: number,
): Edited<Documents> {
  const index = Math.min(lesson.steps.length - 1, Math.max(0, step));
  const asked = lesson.steps[index]!;
  let { pattern, back, setup } = now;
  if (asked.pattern !== undefined) {
    const checked = editor.checkPattern(typeof asked.pattern === 'string' ? demoPattern(asked.pattern) : asked.pattern);
    if (!checked.ok) return checked;
    pattern = checked.value;
  }
  for (const [key, value] of Object.entries(asked.set ?? {})) {
    const edited = editor.editPattern(pattern, key, value);
    if (!edited.ok) return edited;
    pattern = edited.value;
  }
  for (const [path, value] of Object.entries(asked.setup ?? {})) {
    const edited = editor.editSetup(setup, path, value);
    if (!edited.ok) return edited;
    setup = edited.value;
  }
  if (typeof asked.back === 'string') back = demoBack(asked.back) ?? back;
  else if (asked.back !== undefined) back = { name: String(asked.back.name), json: asked.back, mesh: null };
  return { ok: true, value: { pattern, back, setup, lesson: { document: lesson, step: index } } };
}
