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

export const NO_CHOICES: Choices = Object.freeze({ unit: null, way: null, marks: {}, leftOut: [] });

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
