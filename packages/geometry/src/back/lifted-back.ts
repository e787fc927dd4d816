import { type Chart, createChartField, type DistanceField, raiseChart } from '../spatial/index.ts';
import { type BackSurface, type PathAccuracy, viewOn } from './back-surface.ts';
import { type Lift, sumOfLifts } from './lift.ts';
import { measurePathAccuracy } from './measure-path-accuracy.ts';
import { samplePoints } from './scan-charts.ts';

/** What a back of any kind hands over so that it can be lifted. */
export interface LiftParts {
  readonly left: Chart;
  readonly right: Chart;
  /** The exact distance to the surface with the lift added; asked for only on the exact path. */
  exactWith(lift: Lift): DistanceField;
}

/**
 * The same back with heights added along z, in the same frame, its charts raised and not built afresh: some milliseconds
 * for a patch. Lifting a lifted back adds the lifts up.
 */
export function liftBack(back: BackSurface, parts: LiftParts, lift: Lift): BackSurface {
  if (lift.toXMm < lift.fromXMm) return back;
  const fast = createChartField(raiseChart(parts.left, lift), raiseChart(parts.right, lift));
  const heightMm = (x: number, y: number): number => {
    const z = back.heightMm(x, y);
    return x < lift.fromXMm || x > lift.toXMm ? z : z + lift.at(x, y);
  };
  let exact: DistanceField | null = null;
  let accuracy: PathAccuracy | null = null;
  const lifted = viewOn(back, {
    fast,
    get exact(): DistanceField {
      exact ??= parts.exactWith(lift);
      return exact;
    },
    get fastAccuracy(): PathAccuracy {
      const { smoothingMm, foldedFraction } = back.fastAccuracy;
      const points = everyFourth(samplePoints(heightMm, back.landmarks));
      accuracy ??= measurePathAccuracy(fast, lifted.exact, points, { smoothingMm, foldedFraction });
      return accuracy;
    },
    heightMm,
    drawingMesh: () => liftMesh(back.drawingMesh(), lift),
    lifted: (more) => liftBack(back, parts, sumOfLifts([lift, more])),
  });
  return lifted;
}

/** Exact distances to a formula are slow, and the standing back was compared in full. */
function everyFourth(points: Float64Array): Float64Array {
  const kept = new Float64Array(3 * Math.ceil(points.length / 12));
  for (let i = 0; 12 * i < points.length; i++) kept.set(points.subarray(12 * i, 12 * i + 3), 3 * i);
  return kept;
}

/** A mesh in the horse frame with the lift added to its vertices. */
export function liftMesh(
  mesh: ReturnType<BackSurface['drawingMesh']>,
  lift: Lift,
): ReturnType<BackSurface['drawingMesh']> {
  const positions = Float64Array.from(mesh.positions);
  for (let k = 0; k < positions.length; k += 3) {
    const x = positions[k]!;
    if (x >= lift.fromXMm && x <= lift.toXMm) positions[k + 2]! += lift.at(x, positions[k + 1]!);
  }
  return { positions, triangles: mesh.triangles };
}
