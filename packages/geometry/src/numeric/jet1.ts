/** Value, first and second derivative with respect to one variable. */
export type Jet1 = readonly [value: number, first: number, second: number];

export const constantJet = (v: number): Jet1 => [v, 0, 0];
export const addJet = (a: Jet1, b: Jet1): Jet1 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const scaleJet = (a: Jet1, s: number): Jet1 => [a[0] * s, a[1] * s, a[2] * s];

/** Product rule to second order. */
export const multiplyJet = (a: Jet1, b: Jet1): Jet1 => [
  a[0] * b[0],
  a[1] * b[0] + a[0] * b[1],
  a[2] * b[0] + 2 * a[1] * b[1] + a[0] * b[2],
];

/** Chain rule to second order for f with known f, f', f'' at a's value. */
export const applyJet = (a: Jet1, f: number, df: number, ddf: number): Jet1 => [
  f,
  df * a[1],
  ddf * a[1] * a[1] + df * a[2],
];

export const sinJet = (a: Jet1): Jet1 => applyJet(a, Math.sin(a[0]), Math.cos(a[0]), -Math.sin(a[0]));
export const cosJet = (a: Jet1): Jet1 => applyJet(a, Math.cos(a[0]), -Math.sin(a[0]), -Math.cos(a[0]));

/** Square root; the value must be positive. */
export function sqrtJet(a: Jet1): Jet1 {
  const root = Math.sqrt(a[0]);
  return applyJet(a, root, 0.5 / root, -0.25 / (root * a[0]));
}
