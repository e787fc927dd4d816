import type { BackSurface } from '../back/back-surface.ts';
import type { DistanceField } from '../spatial/distance-field.ts';

/** A back whose both paths are one analytic field, with what seating asks of a back and nothing else. */
export function analyticBack(field: DistanceField, heightMm: BackSurface['heightMm']): BackSurface {
  return {
    name: 'analytic',
    kind: 'sections',
    exact: field,
    fast: field,
    fastAccuracy: { boundMm: 0, p99Mm: 0, samples: 0, smoothingMm: 0, foldedFraction: 0 },
    landmarks: {
      bladeEdgeLeft: [0, -120, heightMm(0, -120)],
      bladeEdgeRight: [0, 120, heightMm(0, 120)],
      withersTop: [0, 0, heightMm(0, 0)],
      lowPoint: [250, 0, heightMm(250, 0)],
      lastRib: [500, 0, heightMm(500, 0)],
      proposed: [],
    },
    measured: { by: 'formula', on: '2026-01-01', uncertaintyMm: 0, uncertaintyDeg: 0 },
    blades: { heightLeftMm: 0, heightRightMm: 0, swingMm: 0, assumed: [] },
    fileToHorse: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1],
    heightMm,
    warnings: [],
    lifted: () => {
      throw new Error('a formula has no charts to raise');
    },
    drawingMesh: () => ({ positions: new Float64Array(0), triangles: new Uint32Array(0) }),
  };
}
