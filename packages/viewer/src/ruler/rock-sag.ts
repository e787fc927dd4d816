/** Exact rise of an arc of this radius over the chord, mm; 0 for a flat one. */
export function sagOfRock(radius: number | 'flat', chordMm: number): number {
  if (radius === 'flat') return 0;
  const half = chordMm / 2;
  return half >= radius ? Number.NaN : radius - Math.sqrt(radius * radius - half * half);
}

export interface RockRange {
  readonly chordMm: number;
  /** Ends of the radius, mm. */
  readonly leastMm: number;
  readonly mostMm: number;
}

/**
 * The radius whose arc rises so much over the chord: (chord2 / 4 + sag2) / (2 sag), within its range. Below the sag of the
 * largest radius there is only flat: going down one lands there, coming from flat on the largest radius.
 */
export function rockOfSag(sagMm: number, fromSagMm: number, { chordMm, leastMm, mostMm }: RockRange): number | 'flat' {
  const flattest = sagOfRock(mostMm, chordMm);
  if (sagMm < flattest - 1e-9) return sagMm > fromSagMm ? mostMm : 'flat';
  const radius = (chordMm * chordMm) / (8 * sagMm) + sagMm / 2;
  return Math.min(mostMm, Math.max(leastMm, radius));
}
