import type { Observation } from './observation.ts';

/** Sizes count as alike within this, mm, or this share of the larger. */
const ALIKE_MM = 0.5;
const ALIKE_SHARE = 0.05;
const ALIKE_PLACE_MM = 20;

/** Puts left and right together where both show the same at the same place; sides that differ stay apart. */
export function mergeSides(observations: readonly Observation[]): Observation[] {
  const out: Observation[] = [];
  const taken = new Set<Observation>();
  for (const one of observations) {
    if (taken.has(one)) continue;
    const other = observations.find((o) => !taken.has(o) && isAlike(one, o));
    if (other !== undefined) taken.add(other);
    out.push(other === undefined ? one : joined(one, other));
  }
  return out;
}

function isAlike(a: Observation, b: Observation): boolean {
  return (
    a.code === b.code &&
    a.side !== 'both' &&
    b.side !== 'both' &&
    a.side !== b.side &&
    Math.abs(a.sizeMm - b.sizeMm) <= Math.max(ALIKE_MM, ALIKE_SHARE * Math.max(a.sizeMm, b.sizeMm)) &&
    Math.abs(a.fromMm - b.fromMm) <= ALIKE_PLACE_MM &&
    Math.abs(a.toMm - b.toMm) <= ALIKE_PLACE_MM
  );
}

function joined(a: Observation, b: Observation): Observation {
  const larger = a.sizeMm >= b.sizeMm ? a : b;
  return {
    ...larger,
    side: 'both',
    fromMm: Math.min(a.fromMm, b.fromMm),
    toMm: Math.max(a.toMm, b.toMm),
    withinMeasuringError: a.withinMeasuringError && b.withinMeasuringError,
    sizeIn(reading) {
      const [p, q] = [a.sizeIn(reading), b.sizeIn(reading)];
      return p === null || q === null ? null : Math.max(p, q);
    },
  };
}
