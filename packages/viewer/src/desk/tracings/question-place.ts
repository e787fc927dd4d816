import type { TracingQuestion } from '@barwright/geometry';

/** What a question is about, from its id: stations by their curves' names, and the lengthwise curve, if any. */
export function curvesInQuestion(question: TracingQuestion): ReadonlySet<string> {
  const colon = question.id.indexOf(':');
  if (colon < 0) return new Set();
  const rest = question.id.slice(colon + 1);
  return new Set([rest, ...rest.split('|'), ...rest.split(/[:|+]/)]);
}

/** Whether a question is about which side is which: the drawing then lays the two sides over each other. */
export const isAboutSides = ({ id }: TracingQuestion): boolean =>
  id.startsWith('left-right:') || id.startsWith('side:');

/** A document with one more answer; null takes it back. */
export function withAnswer<Doc extends { readonly answers?: Record<string, string> | undefined }>(
  document: Doc,
  id: string,
  answer: string | null,
): Doc {
  const { [id]: _, ...others } = document.answers ?? {};
  return { ...document, answers: answer === null ? others : { ...others, [id]: answer } };
}
