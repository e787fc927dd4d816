import type { SurfaceJet } from './shell-surface.ts';

export type Vector = readonly [number, number, number];

/** The reference surface at one place: base, dual base, normal, and the mixed curvature b_a^c that turns the normal along it. */
export interface ShellFrame {
  readonly a1: Vector;
  readonly a2: Vector;
  readonly a3: Vector;
  readonly up1: Vector;
  readonly up2: Vector;
  /** |a1 x a2|: area per db dtau, mm. */
  readonly area: number;
  /** b_1^1, b_1^2, b_2^1, b_2^2. */
  readonly bend: readonly [number, number, number, number];
}

export function frameOf(jet: SurfaceJet): ShellFrame {
  const [a1, a2] = [vector(jet.rb), vector(jet.rt)];
  const across = cross(a1, a2);
  const area = Math.hypot(...across);
  const a3 = scale(across, 1 / area);
  const [up1, up2] = [scale(cross(a2, a3), 1 / area), scale(cross(a3, a1), 1 / area)];
  const [bb, bt, tt] = [dot(vector(jet.rbb), a3), dot(vector(jet.rbt), a3), dot(vector(jet.rtt), a3)];
  const [m11, m12, m22] = [dot(up1, up1), dot(up1, up2), dot(up2, up2)];
  const bend = [bb * m11 + bt * m12, bb * m12 + bt * m22, bt * m11 + tt * m12, bt * m12 + tt * m22] as const;
  return { a1, a2, a3, up1, up2, area, bend };
}

/** Area at a height over that of the reference surface: 1 - 2 H z + K z^2. */
export const stretchAt = ({ bend: [b11, b12, b21, b22] }: ShellFrame, z: number): number =>
  1 - z * (b11 + b22) + z * z * (b11 * b22 - b12 * b21);

/**
 * Strains along the bar, across it and in shear (engineering) at a height z above the reference surface, from the six
 * covariant ones of the surface (membrane bb, tt, 2 x bt, then curvature changes): a 3 x 6 matrix by rows into `out`.
 *
 * E(z) = e + z k + z^2 q with q = -sym(b k) - b e b, exact for normals that stay straight and square; then turned into
 * axes of unit length at that height, whose fibres are (1 - z b) times as long as at the surface.
 */
export function strainMapAt(frame: ShellFrame, z: number, out: Float64Array): Float64Array {
  const [b11, b12, b21, b22] = frame.bend;
  const [c11, c12, c22] = sidesAt(frame, z);
  const zz = z * z;
  const set = (k: number, bb: number, tt: number, bt: number): void => {
    out[k] = c11 * c11 * bb;
    out[6 + k] = c12 * c12 * bb + c22 * c22 * tt + c12 * c22 * bt;
    out[12 + k] = 2 * c11 * c12 * bb + c11 * c22 * bt;
  };
  // Columns of E(z), in bb, tt, 2 x bt.
  set(0, 1 - zz * b11 * b11, -zz * b21 * b21, -2 * zz * b11 * b21);
  set(1, -zz * b12 * b12, 1 - zz * b22 * b22, -2 * zz * b12 * b22);
  set(2, -zz * b11 * b12, -zz * b21 * b22, 1 - zz * (b11 * b22 + b12 * b21));
  set(3, z - zz * b11, 0, -zz * b21);
  set(4, 0, z - zz * b22, -zz * b12);
  set(5, (-zz * b12) / 2, (-zz * b21) / 2, z - (zz * (b11 + b22)) / 2);
  return out;
}

const sides = new Float64Array(3);

/**
 * Covariant components per unit length at a height z: along (1 / |g1|), and of the direction square to it in the two base
 * vectors. By dot products of the base alone: e2 = a3 x g1 / |g1|, so (a3 x g1) . e2 = |g1| and (g2 x a3) . e2 = -g1 . g2 / |g1|.
 */
function sidesAt(frame: ShellFrame, z: number): Float64Array {
  const { a1, a2, area, bend } = frame;
  const [b11, b12, b21, b22] = bend;
  const [aa, ab, bb] = [dot(a1, a1), dot(a1, a2), dot(a2, a2)];
  // g1 = p a1 + q a2, g2 = r a1 + s a2.
  const [p, q, r, s] = [1 - z * b11, -z * b12, -z * b21, 1 - z * b22];
  const long = Math.sqrt(p * p * aa + 2 * p * q * ab + q * q * bb);
  const j = area * stretchAt(frame, z);
  sides[0] = 1 / long;
  sides[1] = -(p * r * aa + (p * s + q * r) * ab + q * s * bb) / (long * j);
  sides[2] = long / j;
  return sides;
}

export const vector = (v: Float64Array): Vector => [v[0]!, v[1]!, v[2]!];
export const dot = (p: Vector, q: Vector): number => p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
export const scale = (p: Vector, s: number): Vector => [p[0] * s, p[1] * s, p[2] * s];
export const add = (p: Vector, q: Vector): Vector => [p[0] + q[0], p[1] + q[1], p[2] + q[2]];
export const cross = (p: Vector, q: Vector): Vector => [
  p[1] * q[2] - p[2] * q[1],
  p[2] * q[0] - p[0] * q[2],
  p[0] * q[1] - p[1] * q[0],
];
