import type { DistanceField } from '../spatial/distance-field.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { Blades } from './blades.ts';
import type { Lift } from './lift.ts';

export type Vec3 = readonly [number, number, number];

/** Landmarks in the horse frame, mm. lastRib and withersTop lie on the topline (y = 0). */
export interface Landmarks {
  readonly bladeEdgeLeft: Vec3;
  readonly bladeEdgeRight: Vec3;
  readonly withersTop: Vec3;
  readonly lowPoint: Vec3;
  readonly lastRib: Vec3;
  /** Names of landmarks that were proposed from the shape and not marked by a person. */
  readonly proposed: readonly (keyof Omit<Landmarks, 'proposed'>)[];
}

export interface Measured {
  readonly by: string;
  /** ISO date, yyyy-mm-dd. */
  readonly on: string;
  readonly uncertaintyMm: number;
  readonly uncertaintyDeg: number;
}

/** How far the fast path may be from the exact one on this back: measured, not assumed. */
export interface PathAccuracy {
  /** Largest |fast - exact| distance seen over d = -15 ... +60 mm, mm. */
  readonly boundMm: number;
  readonly p99Mm: number;
  readonly samples: number;
  /** Standard deviation of the smoothing applied before the chart was made, mm (0 = none). */
  readonly smoothingMm: number;
  /** Share of the chart's area given up because the surface folds against the chart's tilt, 0..1. */
  readonly foldedFraction: number;
}

/** One horse's back in the horse frame (mm): x rearward, y to the horse's right, z up. */
export interface BackSurface {
  readonly name: string;
  readonly kind: 'sections' | 'scan' | 'tracings';
  /** true nearest point: analytic foot, or triangles through a bounding-volume tree. */
  readonly exact: DistanceField;
  /** Charts tilted to each bar's mean normal. */
  readonly fast: DistanceField;
  readonly fastAccuracy: PathAccuracy;
  readonly landmarks: Landmarks;
  readonly measured: Measured;
  readonly blades: Blades;
  /** What a person should know about how this back was made, one sentence each. */
  readonly warnings: readonly string[];
  /** Row-major 4x4 that carries the file's own coordinates (in the file's unit) to the horse frame in mm. */
  readonly fileToHorse: readonly number[];
  /** Height z at (x, y) looking straight down, NaN where there is no data. mm. */
  heightMm(xMm: number, yMm: number): number;
  /**
   * Tracings only: how far the surface may be off at a station, at right angles to it, mm. Grows with the distance to the nearest traced
   * station; NaN ahead of the first and behind the last.
   */
  uncertaintyAt?(xMm: number): number;
  /**
   * The same back with heights added along z: a blade's patch that moves, a back that arches or dips. Landmarks, frame
   * and data stay.
   */
  lifted(lift: Lift): BackSurface;
  /** A mesh to draw, open at its borders and holes. */
  drawingMesh(): TriangleMesh;
}

/**
 * The same back with some of it replaced. A view and not a copy: what is worked out only when asked for (accuracy, the
 * exact path) stays so, which spreading the object would undo.
 */
export const viewOn = (back: BackSurface, changes: Partial<BackSurface>): BackSurface =>
  Object.create(back, Object.getOwnPropertyDescriptors(changes)) as BackSurface;
