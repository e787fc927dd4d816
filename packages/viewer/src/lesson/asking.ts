import type { OpenedLesson } from '../state/index.ts';
import { documentStore, setView, useDocument, useView, viewStore } from '../state/index.ts';

/** true while the step's question waits: its sentence, figures and colours are kept back until then. */
export function isAsking(lesson: OpenedLesson | null, answers: Readonly<Record<number, string>>): boolean {
  if (lesson === null) return false;
  return lesson.document.steps[lesson.step]?.ask !== undefined && answers[lesson.step] === undefined;
}

export function useIsAsking(): boolean {
  const lesson = useDocument((documents) => documents.lesson);
  const answers = useView((view) => view.answers);
  return isAsking(lesson, answers);
}

/** Keeps the answer to the step that is open, and lets its figures be seen. '' shows them unanswered. */
export function answer(text: string): void {
  const { lesson } = documentStore.getState();
  if (lesson === null) return;
  setView({ answers: { ...viewStore.getState().answers, [lesson.step]: text } });
}
