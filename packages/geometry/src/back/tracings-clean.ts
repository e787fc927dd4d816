import { InputError } from '../numeric/index.ts';

export interface CleanTracing {
  /** Rising y, at least three points, mm. */
  readonly y: readonly number[];
  readonly z: readonly number[];
  readonly warnings: readonly string[];
}

/** Points nearer than this in y are one, mm. */
const SAME_Y_MM = 0.1;
/** The pencil may slip back by this much in y, mm. */
const SLIP_MM = 1;
/** Steeper ends are left out: heights say nothing there, and no bar bears on a wall. */
const STEEPEST_DEG = 75;

/**
 * A traced section as heights over y: duplicates dropped, right order, steep and overhanging ends left out.
 * @throws InputError 'inconsistent' for a curve that crosses itself, 'degenerate' where fewer than three points remain
 */
export function cleanTracing(id: string, points: readonly (readonly [number, number])[]): CleanTracing {
  const warnings: string[] = [];
  const traced = points.filter((p, i) => i === 0 || p[0] !== points[i - 1]![0] || p[1] !== points[i - 1]![1]);
  if (traced.length < 3) throw tooFew(id, traced.length);
  if (crossesItself(traced)) {
    throw new InputError({
      code: 'inconsistent',
      field: `curves.${id}`,
      got: 'a curve that crosses itself',
      expected: 'points in the order in which the pencil ran',
      remedy: 'Trace this section again, or put its points in order.',
    });
  }
  const forward = mostly(traced) > 0 ? traced : [...traced].reverse();
  const run = runAboutTop(forward);
  if (run.length < forward.length) {
    warnings.push(`${id}: ${forward.length - run.length} points where the section turns under were left out.`);
  }
  const merged = mergeSameY(run);
  const kept = withoutSteepEnds(merged);
  if (kept.length < merged.length) {
    const n = merged.length - kept.length;
    warnings.push(`${id}: ${n} points at ends steeper than ${STEEPEST_DEG} degrees were left out.`);
  }
  if (kept.length < 3) throw tooFew(id, kept.length);
  return { y: kept.map((p) => p[0]), z: kept.map((p) => p[1]), warnings };
}

type Point = readonly [number, number];

function tooFew(id: string, count: number): InputError {
  return new InputError({
    code: 'degenerate',
    field: `curves.${id}`,
    got: `${count} usable points`,
    expected: 'at least three different points that run outward',
    remedy: 'Trace this section with more points, or leave it out.',
  });
}

/** Direction of the stretch about the top, which outlasts a closed outline's way back. */
function mostly(points: readonly Point[]): number {
  const top = topOf(points);
  const before = points[Math.max(0, top - 1)]!;
  const after = points[Math.min(points.length - 1, top + 1)]!;
  return after[0] - before[0] || points[points.length - 1]![0] - points[0]![0];
}

const topOf = (points: readonly Point[]): number =>
  points.reduce((best, p, i) => (p[1] > points[best]![1] ? i : best), 0);

/** The stretch about the highest point over which y rises; points that slip back a little are dropped. */
function runAboutTop(points: readonly Point[]): Point[] {
  const top = topOf(points);
  const right: Point[] = [];
  for (let i = top + 1, reached = points[top]![0]; i < points.length && points[i]![0] > reached - SLIP_MM; i++) {
    if (points[i]![0] <= reached) continue;
    reached = points[i]![0];
    right.push(points[i]!);
  }
  const left: Point[] = [];
  for (let i = top - 1, reached = points[top]![0]; i >= 0 && points[i]![0] < reached + SLIP_MM; i--) {
    if (points[i]![0] >= reached) continue;
    reached = points[i]![0];
    left.push(points[i]!);
  }
  return [...left.reverse(), points[top]!, ...right];
}

function mergeSameY(points: readonly Point[]): Point[] {
  const out: Point[] = [];
  let from = 0;
  for (let i = 1; i <= points.length; i++) {
    if (i < points.length && points[i]![0] - points[from]![0] < SAME_Y_MM) continue;
    const group = points.slice(from, i);
    out.push([mean(group.map((p) => p[0])), mean(group.map((p) => p[1]))]);
    from = i;
  }
  return out;
}

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;

function withoutSteepEnds(points: readonly Point[]): Point[] {
  const limit = Math.tan((STEEPEST_DEG * Math.PI) / 180);
  const steep = (a: Point, b: Point): boolean => Math.abs(b[1] - a[1]) > limit * (b[0] - a[0]);
  const top = topOf(points);
  let first = 0;
  let last = points.length - 1;
  for (let i = top; i > 0; i--) {
    if (!steep(points[i - 1]!, points[i]!)) continue;
    first = i;
    break;
  }
  for (let i = top; i < last; i++) {
    if (!steep(points[i]!, points[i + 1]!)) continue;
    last = i;
    break;
  }
  return points.slice(first, last + 1);
}

/** Whether two stretches that aren't neighbours cut each other: sorted by y, each compared while the ranges overlap. */
function crossesItself(points: readonly Point[]): boolean {
  const rising = points.every((p, i) => i === 0 || p[0] >= points[i - 1]![0]);
  const falling = points.every((p, i) => i === 0 || p[0] <= points[i - 1]![0]);
  if (rising || falling) return false;
  const order = points
    .slice(1)
    .map((_, i) => i)
    .sort((i, j) => lowEnd(points, i) - lowEnd(points, j));
  for (let a = 0; a < order.length; a++) {
    const i = order[a]!;
    const reach = Math.max(points[i]![0], points[i + 1]![0]);
    for (let b = a + 1; b < order.length && lowEnd(points, order[b]!) <= reach; b++) {
      const j = order[b]!;
      if (Math.abs(i - j) > 1 && cut(points[i]!, points[i + 1]!, points[j]!, points[j + 1]!)) return true;
    }
  }
  return false;
}

const lowEnd = (points: readonly Point[], i: number): number => Math.min(points[i]![0], points[i + 1]![0]);

/** Proper crossing; stretches that only touch (a closed outline's ends) don't count. */
function cut(a: Point, b: Point, c: Point, d: Point): boolean {
  const side = (p: Point, q: Point, r: Point) => (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}
