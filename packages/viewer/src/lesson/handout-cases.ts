import type { InputErrorDetails, LessonStep, Setup } from '@barwright/geometry';
import { loadEditor, type OpenedLesson } from '../state/index.ts';
import { applyLessonStep } from '../state/lesson-step.ts';
import type { ComparedInput, ComparedView } from '../study/compare/compare-service.ts';
import { backIdOf } from '../study/shoulder/on-bench.ts';
import { studyLine } from '../study/study-line.ts';

/** One step of the lesson worked out, for paper. */
export interface HandoutCase {
  readonly step: LessonStep;
  readonly setup: Setup;
  readonly patternName: string;
  readonly view: ComparedView;
}

export type CasesOutcome =
  | { readonly ok: true; readonly value: readonly HandoutCase[] }
  | { readonly ok: false; readonly error: InputErrorDetails };

/**
 * Every step of a lesson settled by the studies' worker, one after the other; `onDone` counts them. null where it was stopped
 * by `signal`, or where other runs have taken the worker meanwhile.
 */
export async function workOutCases(
  lesson: OpenedLesson,
  onDone: (done: number) => void,
  signal: AbortSignal,
): Promise<CasesOutcome | null> {
  const editor = await loadEditor();
  const stands: (Omit<HandoutCase, 'view'> & { readonly input: ComparedInput })[] = [];
  for (const [i, step] of lesson.document.steps.entries()) {
    const stood = applyLessonStep(editor, lesson, i);
    if (!stood.ok) return stood;
    const { pattern, setup, back } = stood.value;
    const input = { id: String(i), on: { pattern, setup, back, backId: backIdOf(back) } };
    stands.push({ step, setup, patternName: pattern.name, input });
  }
  const begun = await studyLine().ask((service) => service.compareBegin(stands.map(({ input }) => input)));
  if (!begun.ok) return begun;
  const cases: HandoutCase[] = [];
  for (const { input: _, ...stand } of stands) {
    if (signal.aborted) return null;
    const next = await studyLine().ask((service) => service.compareNext(begun.value.id));
    if (!next.ok) return next;
    const view = next.value?.parts[0];
    if (view === undefined) return null;
    cases.push({ ...stand, view });
    onDone(cases.length);
  }
  return { ok: true, value: cases };
}

/** One axis for all cases, so that lengths on the paper can be compared: mm behind the blade edge, to whole 50 mm. */
export function commonRange(cases: readonly Pick<HandoutCase, 'view'>[]): { fromMm: number; toMm: number } {
  const fronts = cases.map(({ view }) => view.frontMm);
  const rears = cases.map(({ view }) => Math.max(view.frontMm + view.lengthMm, view.back.usable.toXMm));
  return { fromMm: Math.floor(Math.min(0, ...fronts) / 50) * 50, toMm: Math.ceil(Math.max(...rears) / 50) * 50 };
}
