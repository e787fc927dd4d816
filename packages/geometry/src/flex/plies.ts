/** Elastic numbers of one material at its temperature and age, MPa, along the bar and across it. */
export interface Elastic {
  readonly alongMPa: number;
  readonly acrossMPa: number;
  readonly shearMPa: number;
  /** Poisson's ratio for a pull along the bar. */
  readonly poisson: number;
}

/** One ply: Q11, Q12, Q22, Q66 in MPa, and its place above the build-up's own zero, mm. */
export interface StiffPly {
  readonly stiffness: readonly [number, number, number, number];
  readonly fromMm: number;
  readonly toMm: number;
}

/** A shell's build-up at a place, from the reference surface's side up, and how far its zero stands above that surface, mm. */
export interface Layup {
  readonly plies: readonly StiffPly[];
  readonly riseMm: number;
}

export type LayupAt = (bMm: number, tau: number) => Layup;

/**
 * Plane stress of a ply whose axes lie along and across the bar: Q11, Q12, Q22, Q66 (Jones, Mechanics of Composite
 * Materials, ch. 2, from memory).
 * @throws RangeError for a ply without thickness or stiffness, or with a Poisson's ratio that stores no energy
 */
export function stiffPly({ alongMPa, acrossMPa, shearMPa, poisson }: Elastic, fromMm: number, toMm: number): StiffPly {
  if (!(toMm > fromMm)) throw new RangeError('stiffPly: a ply needs a thickness');
  const turned = (poisson * acrossMPa) / alongMPa;
  const share = 1 - poisson * turned;
  if (!(alongMPa > 0 && acrossMPa > 0 && shearMPa > 0 && share > 0)) {
    throw new RangeError('stiffPly: moduli must be positive and Poisson ratios admissible');
  }
  return { stiffness: [alongMPa / share, (poisson * acrossMPa) / share, acrossMPa / share, shearMPa], fromMm, toMm };
}
