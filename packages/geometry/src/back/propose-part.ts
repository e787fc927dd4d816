/** How far a proposal may be trusted; nothing is applied at any of them without somebody's word. */
export type Confidence = 'clear' | 'likely' | 'unsure';

export interface Alternative<T> {
  readonly value: T;
  /** 0..1; compares alternatives of one part only. */
  readonly score: number;
  readonly reason: string;
}

/** One thing that a scan's file does not say, and what its shape suggests. */
export interface Proposal<T> {
  readonly value: T;
  /** Other readings, likeliest first. */
  readonly alternatives: readonly Alternative<T>[];
  readonly reason: string;
  readonly confidence: Confidence;
  /** True when a person said so: the shape was not asked. */
  readonly given: boolean;
}

export const saidSo = <T>(value: T): Proposal<T> => ({
  value,
  alternatives: [],
  reason: 'Given.',
  confidence: 'clear',
  given: true,
});

export type Axis = '+x' | '-x' | '+y' | '-y' | '+z' | '-z';
export type Vector = [number, number, number];

export const AXES: readonly Axis[] = ['+x', '-x', '+y', '-y', '+z', '-z'];

export const oppositeAxis = (axis: Axis): Axis => `${axis[0] === '+' ? '-' : '+'}${axis[1]}` as Axis;

export function axisVector(axis: Axis): Vector {
  const sign = axis[0] === '-' ? -1 : 1;
  return [axis[1] === 'x' ? sign : 0, axis[1] === 'y' ? sign : 0, axis[1] === 'z' ? sign : 0];
}

export const dot = (a: ArrayLike<number>, b: ArrayLike<number>): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

export const cross = (a: ArrayLike<number>, b: ArrayLike<number>): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

export function unitVector(a: ArrayLike<number>): Vector {
  const length = Math.hypot(a[0], a[1], a[2]);
  return [a[0] / length, a[1] / length, a[2] / length];
}

/** What is left of `a` at right angles to the unit vector `n`, of unit length. */
export function squareTo(a: ArrayLike<number>, n: ArrayLike<number>): Vector {
  const along = dot(a, n);
  return unitVector([a[0] - along * n[0], a[1] - along * n[1], a[2] - along * n[2]]);
}

/** The axis of the file nearest to a direction, of those given, and the angle to it, degrees. */
export function nearestAxis(direction: ArrayLike<number>, among: readonly Axis[] = AXES): { axis: Axis; deg: number } {
  const axis = among.reduce((a, b) => (dot(axisVector(b), direction) > dot(axisVector(a), direction) ? b : a));
  return { axis, deg: angleDeg(axisVector(axis), direction) };
}

export function angleDeg(a: ArrayLike<number>, b: ArrayLike<number>): number {
  const c = cross(a, b);
  return (Math.atan2(Math.hypot(c[0], c[1], c[2]), dot(a, b)) * 180) / Math.PI;
}
