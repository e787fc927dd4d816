/** 3 x 3 matrices, row-major. */
export type Matrix3 = readonly number[];

export function multiply3(a: Matrix3, b: Matrix3): number[] {
  const out = new Array<number>(9).fill(0);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) for (let k = 0; k < 3; k++) out[3 * i + j]! += a[3 * i + k]! * b[3 * k + j]!;
  }
  return out;
}

export const determinant3 = (m: Matrix3): number =>
  m[0]! * (m[4]! * m[8]! - m[5]! * m[7]!) -
  m[1]! * (m[3]! * m[8]! - m[5]! * m[6]!) +
  m[2]! * (m[3]! * m[7]! - m[4]! * m[6]!);

/** Inverse up to a factor (the adjugate), which is all a homography needs. */
export const adjugate3 = (m: Matrix3): number[] => [
  m[4]! * m[8]! - m[5]! * m[7]!,
  m[2]! * m[7]! - m[1]! * m[8]!,
  m[1]! * m[5]! - m[2]! * m[4]!,
  m[5]! * m[6]! - m[3]! * m[8]!,
  m[0]! * m[8]! - m[2]! * m[6]!,
  m[2]! * m[3]! - m[0]! * m[5]!,
  m[3]! * m[7]! - m[4]! * m[6]!,
  m[1]! * m[6]! - m[0]! * m[7]!,
  m[0]! * m[4]! - m[1]! * m[3]!,
];

/** A point through a homography. */
export function through(m: Matrix3, [x, y]: readonly [number, number]): [number, number] {
  const w = m[6]! * x + m[7]! * y + m[8]!;
  return [(m[0]! * x + m[1]! * y + m[2]!) / w, (m[3]! * x + m[4]! * y + m[5]!) / w];
}

/** Derivative of a homography at a point: [du/dx, du/dy, dv/dx, dv/dy]. */
export function slopeThrough(m: Matrix3, [x, y]: readonly [number, number]): [number, number, number, number] {
  const w = m[6]! * x + m[7]! * y + m[8]!;
  const [u, v] = through(m, [x, y]);
  return [(m[0]! - u * m[6]!) / w, (m[1]! - u * m[7]!) / w, (m[3]! - v * m[6]!) / w, (m[4]! - v * m[7]!) / w];
}
