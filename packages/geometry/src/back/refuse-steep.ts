import { InputError } from '../numeric/index.ts';
import type { SectionHeight } from './section-height.ts';
import { createSurfaceJet } from './surface-jet.ts';

/** Steepest slope a back from sections may have, degrees: beyond it heights run away and charts have no end. */
const STEEPEST_DEG = 87;
const STEP_MM = 10;

/**
 * Refuses slopes that reach the vertical once edge, asymmetry and the spline between stations are added.
 * @param distancesMm from the midline, where slopes are given; the steepest lie there
 * @throws InputError 'out-of-range'
 */
export function refuseSteep(height: SectionHeight, distancesMm: readonly number[]): void {
  const jet = createSurfaceJet();
  const limit = Math.tan((STEEPEST_DEG * Math.PI) / 180);
  for (let x = height.fromXMm; x <= height.toXMm; x += STEP_MM) {
    for (const y of distancesMm) {
      for (const side of [-1, 1]) {
        height.jet(x, side * y, jet);
        if (Number.isFinite(jet.z) && Math.abs(jet.zy) <= limit) continue;
        throw new InputError({
          code: 'out-of-range',
          field: 'slopeDeg',
          got: `${STEEPEST_DEG} degrees or more at x = ${x.toFixed(0)} mm, ${y} mm from the midline`,
          expected: `slopes below ${STEEPEST_DEG} degrees, edge and asymmetry included, between the stations too`,
          remedy: 'Lower the slopes there, or the amount added at the edge, or set more stations.',
        });
      }
    }
  }
}
