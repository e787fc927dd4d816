/** One ply's elastic numbers at its temperature and age, MPa, along the bar and across it, and its place above the reference surface, mm. */
export interface PlyStiffness {
  readonly alongMPa: number;
  readonly acrossMPa: number;
  readonly shearMPa: number;
  /** Poisson's ratio for a pull along the bar. */
  readonly poisson: number;
  readonly fromMm: number;
  readonly toMm: number;
}

/** Plane-stress laminate about the reference surface: membrane A (N/mm), coupling B (N), bending D (N mm); each 11, 12, 22, 66. */
export interface Laminate {
  readonly a: Float64Array;
  readonly b: Float64Array;
  readonly d: Float64Array;
}

/**
 * Classical laminate theory for plies whose axes lie along and across the bar: A, B, D = integral of Q (1, z, z^2) dz
 * (Jones, Mechanics of Composite Materials, ch. 4, from memory).
 * @throws RangeError for a ply without thickness or stiffness, or with a Poisson's ratio that stores no energy
 */
export function laminate(plies: readonly PlyStiffness[]): Laminate {
  const out: Laminate = { a: new Float64Array(4), b: new Float64Array(4), d: new Float64Array(4) };
  for (const ply of plies) {
    const q = planeStress(ply);
    const { fromMm: z0, toMm: z1 } = ply;
    if (!(z1 > z0)) throw new RangeError('laminate: a ply needs a thickness');
    for (let i = 0; i < 4; i++) {
      out.a[i]! += q[i]! * (z1 - z0);
      out.b[i]! += (q[i]! * (z1 * z1 - z0 * z0)) / 2;
      out.d[i]! += (q[i]! * (z1 ** 3 - z0 ** 3)) / 3;
    }
  }
  return out;
}

/** Q11, Q12, Q22, Q66. */
export function planeStress({
  alongMPa,
  acrossMPa,
  shearMPa,
  poisson,
}: PlyStiffness): [number, number, number, number] {
  const turned = (poisson * acrossMPa) / alongMPa;
  const share = 1 - poisson * turned;
  if (!(alongMPa > 0 && acrossMPa > 0 && shearMPa > 0 && share > 0)) {
    throw new RangeError('laminate: moduli must be positive and Poisson ratios admissible');
  }
  return [alongMPa / share, (poisson * acrossMPa) / share, acrossMPa / share, shearMPa];
}
