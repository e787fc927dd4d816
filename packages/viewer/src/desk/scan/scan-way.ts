import type { Axis, ScanProposal, ScanUnit } from '@barwright/geometry';
import { SCAN_TEXTS } from '../../look/texts/scan.ts';

export type Point = readonly [number, number, number];

/** Which way a scan lies: `turn` first, then the axes, as in a scan document. */
export interface Way {
  readonly tail: Axis;
  readonly right: Axis;
  readonly up: Axis;
  readonly turn: readonly number[] | null;
  /** The file shows the horse in a mirror: its axes are left-handed. */
  readonly isMirrored: boolean;
}

/** Millimetres in one unit of a file. */
export const UNIT_MM: Readonly<Record<ScanUnit, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4 };

export const AXES: readonly Axis[] = ['+x', '-x', '+y', '-y', '+z', '-z'];

export const opposite = (axis: Axis): Axis => `${axis[0] === '+' ? '-' : '+'}${axis[1]}` as Axis;

export const proposedWay = (proposal: ScanProposal): Way => ({
  tail: proposal.tail.value,
  right: proposal.right.value,
  up: proposal.up.value,
  turn: proposal.turn.value,
  isMirrored: proposal.mirrored.value,
});

const T = SCAN_TEXTS.way.moves;

/** The horse seen another way, in words that need no axes. */
export const WAY_MOVES = {
  round: {
    says: T.round,
    move: (w: Way) => ({ ...w, tail: opposite(w.tail), right: opposite(w.right) }),
  },
  over: { says: T.over, move: (w: Way) => ({ ...w, right: opposite(w.right), up: opposite(w.up) }) },
  side: { says: T.side, move: (w: Way) => ({ ...w, right: w.up, up: opposite(w.right) }) },
  across: { says: T.across, move: (w: Way) => ({ ...w, tail: w.right, right: opposite(w.tail) }) },
  mirror: {
    says: T.mirror,
    move: (w: Way) => ({ ...w, right: opposite(w.right), isMirrored: !w.isMirrored }),
  },
} as const satisfies Record<string, { says: string; move: (way: Way) => Way }>;

export const sameWay = (a: Way, b: Way): boolean => JSON.stringify(inOrder(a)) === JSON.stringify(inOrder(b));

const inOrder = ({ tail, right, up, turn, isMirrored }: Way): unknown[] => [tail, right, up, turn, isMirrored];

export function axisVector(axis: Axis): Point {
  const sign = axis[0] === '-' ? -1 : 1;
  return ['x', 'y', 'z'].map((letter) => (axis[1] === letter ? sign : 0)) as unknown as Point;
}

/** The way with another axis to the tail or up; right follows from both. Null when they lie along one another. */
export function wayFromAxes(way: Way, tail: Axis, up: Axis): Way | null {
  if (tail[1] === up[1]) return null;
  const [a, b] = [axisVector(up), axisVector(tail)];
  const sign = way.isMirrored ? -1 : 1;
  const across = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  const right = AXES.find((axis) => axisVector(axis).every((value, k) => value === sign * across[k]!));
  return right === undefined ? null : { ...way, tail, right, up };
}

/** Row-major 3x3: a file's directions to tail, right and up, no unit yet. */
export function rowsOf({ tail, right, up, turn }: Way): number[] {
  const named = [tail, right, up].map(axisVector);
  if (turn === null) return named.flat();
  return named.flatMap((row) =>
    [0, 1, 2].map((k) => row[0] * turn[k]! + row[1] * turn[3 + k]! + row[2] * turn[6 + k]!),
  );
}
