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

/** A shell's build-up at a place, from the reference surface's side up. */
export type PliesAt = (bMm: number, tau: number) => readonly PlyStiffness[];

/**
 * Plane stress of a ply whose axes lie along and across the bar: Q11, Q12, Q22, Q66 (Jones, Mechanics of Composite
 * Materials, ch. 2, from memory).
 * @throws RangeError for a ply without thickness or stiffness, or with a Poisson's ratio that stores no energy
 */
export function planeStress(ply: PlyStiffness): readonly [number, number, number, number] {
  const { alongMPa, acrossMPa, shearMPa, poisson, fromMm, toMm } = ply;
  if (!(toMm > fromMm)) throw new RangeError('planeStress: a ply needs a thickness');
  const turned = (poisson * acrossMPa) / alongMPa;
  const share = 1 - poisson * turned;
  if (!(alongMPa > 0 && acrossMPa > 0 && shearMPa > 0 && share > 0)) {
    throw new RangeError('planeStress: moduli must be positive and Poisson ratios admissible');
  }
  return [alongMPa / share, (poisson * acrossMPa) / share, acrossMPa / share, shearMPa];
}
