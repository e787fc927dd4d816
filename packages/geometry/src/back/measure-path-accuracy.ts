import { createFootRows, type DistanceField, type Side } from '../spatial/index.ts';
import type { PathAccuracy } from './back-surface.ts';

/** Distances from the surface at which the two paths are compared, mm (DESIGN 3: -15 ... +60). */
const OFFSETS_MM = [-15, -7, 0, 9, 18, 30, 45, 60];

/**
 * Compares fast and exact distances at points lifted off the surface along its normals.
 * @param surfaceMm 3n points on or near the surface, horse frame; y >= 0 is asked of the right chart, y < 0 of the left
 */
export function measurePathAccuracy(
  fast: DistanceField,
  exact: DistanceField,
  surfaceMm: Float64Array,
  made: Pick<PathAccuracy, 'smoothingMm' | 'foldedFraction'>,
): PathAccuracy {
  const n = surfaceMm.length / 3;
  const base = createFootRows(n);
  evaluateBySide(exact, surfaceMm, base, false);
  const differences: number[] = [];
  const lifted = new Float64Array(surfaceMm.length);
  const a = createFootRows(n);
  const b = createFootRows(n);
  for (const offset of OFFSETS_MM) {
    for (let i = 0; i < surfaceMm.length; i++) lifted[i] = base.footMm[i]! + offset * base.normal[i]!;
    evaluateBySide(fast, lifted, a, false);
    // The foot that a point was lifted from is where the exact search begins, not its answer.
    b.hasData.set(base.hasData);
    b.footMm.set(base.footMm);
    evaluateBySide(exact, lifted, b, true);
    for (let i = 0; i < n; i++) {
      if (base.hasData[i] === 0 || a.hasData[i] === 0 || b.hasData[i] === 0) continue;
      differences.push(Math.abs(a.distanceMm[i]! - b.distanceMm[i]!));
    }
  }
  differences.sort((p, q) => p - q);
  return {
    boundMm: differences[differences.length - 1] ?? Number.NaN,
    p99Mm: differences[Math.floor(0.99 * (differences.length - 1))] ?? Number.NaN,
    samples: differences.length,
    ...made,
  };
}

function evaluateBySide(
  field: DistanceField,
  points: Float64Array,
  out: ReturnType<typeof createFootRows>,
  nearRows: boolean,
): void {
  for (let i = 0; i < points.length / 3; i++) {
    const side: Side = points[3 * i + 1]! >= 0 ? 'right' : 'left';
    field.evaluate(points, i, i + 1, side, out, false, { nearRows });
  }
}
