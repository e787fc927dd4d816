import type { CleanStep, LandmarkProposals, ScanUnit } from '@barwright/geometry';
import type { Point, Way } from './scan-way.ts';

export type MarkName = keyof LandmarkProposals;

/** What a person said about a scan. Null: nobody has yet, the proposal stands in. */
export interface Choices {
  readonly unit: ScanUnit | null;
  readonly way: Way | null;
  /** Touched or typed, in the file's own coordinates. */
  readonly marks: Readonly<Partial<Record<MarkName, Point>>>;
  /** Steps of the clean-up that are off. */
  readonly leftOut: readonly CleanStep[];
}

export interface ChoiceHistory {
  readonly now: Choices;
  readonly past: readonly Choices[];
  readonly future: readonly Choices[];
  /** Changes of one kind in a row, such as nudges of one mark, are one step. */
  readonly kind: string | null;
}

const UNDO_LIMIT = 200;

export const startChoices: ChoiceHistory = Object.freeze({
  now: Object.freeze({ unit: null, way: null, marks: {}, leftOut: [] }),
  past: [],
  future: [],
  kind: null,
});

export function choose(history: ChoiceHistory, change: Partial<Choices>, kind: string | null = null): ChoiceHistory {
  const now = { ...history.now, ...change };
  const joins = kind !== null && kind === history.kind;
  const past = joins ? history.past : [...history.past, history.now].slice(-UNDO_LIMIT);
  return { now, past, future: [], kind };
}

export function undoChoice(history: ChoiceHistory): ChoiceHistory {
  const before = history.past.at(-1);
  if (before === undefined) return history;
  return { now: before, past: history.past.slice(0, -1), future: [history.now, ...history.future], kind: null };
}

export function redoChoice(history: ChoiceHistory): ChoiceHistory {
  const [next, ...future] = history.future;
  if (next === undefined) return history;
  return { now: next, past: [...history.past, history.now], future, kind: null };
}

/** Replaces the choices in force without a step of undo: the same choice, told more exactly. */
export const correctChoice = (history: ChoiceHistory, change: Partial<Choices>): ChoiceHistory => ({
  ...history,
  now: { ...history.now, ...change },
});

/** A mark set or, with null, forgotten. */
export function withMark(marks: Choices['marks'], name: MarkName, at: Point | null): Choices['marks'] {
  const { [name]: _, ...others } = marks;
  return at === null ? others : { ...others, [name]: at };
}

/** Left and right blade edge under each other's names. */
export function swapped({ bladeEdgeLeft, bladeEdgeRight, ...others }: Choices['marks']): Choices['marks'] {
  return {
    ...others,
    ...(bladeEdgeRight === undefined ? {} : { bladeEdgeLeft: bladeEdgeRight }),
    ...(bladeEdgeLeft === undefined ? {} : { bladeEdgeRight: bladeEdgeLeft }),
  };
}
