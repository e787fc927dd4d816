import type { Jet1 } from './jet1.ts';

/** Cosine ramp from 0 at a to 1 at b (a < b), level outside. C1, gentlest bend of the usual ramps after the parabola pair. */
export function rampUp(x: number, a: number, b: number): Jet1 {
  if (x <= a) return [0, 0, 0];
  if (x >= b) return [1, 0, 0];
  const w = Math.PI / (b - a);
  const phase = (x - a) * w;
  return [(1 - Math.cos(phase)) / 2, (Math.sin(phase) * w) / 2, (Math.cos(phase) * w * w) / 2];
}

/** 1 between a and b, cosine ramps of the given length outside them. */
export function plateau(x: number, a: number, b: number, ramp: number): Jet1 {
  if (x < a) return rampUp(x, a - ramp, a);
  if (x <= b) return [1, 0, 0];
  const fall = rampUp(x, b, b + ramp);
  return [1 - fall[0], -fall[1], -fall[2]];
}
