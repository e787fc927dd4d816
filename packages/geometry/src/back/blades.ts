import { type BackSurface, viewOn } from './back-surface.ts';
import { type MovedPatch, patchLift } from './lift.ts';

/** What is known, or assumed, of the shoulder blades under the skin. */
export interface Blades {
  /** Height of each side's raised patch, mm. */
  readonly heightLeftMm: number;
  readonly heightRightMm: number;
  /** How far the rear edge swings back with the leg forward, mm. */
  readonly swingMm: number;
  /** What nobody measured: taken from an average horse (TRADE 5, invented). */
  readonly assumed: readonly ('height' | 'swing')[];
}

/** Where the blades are, behind their standing places, and how much higher their patches stand, mm. */
export interface BladePositions {
  readonly leftMm: number;
  readonly rightMm: number;
  readonly riseLeftMm?: number;
  readonly riseRightMm?: number;
}

export const STANDING: BladePositions = Object.freeze({ leftMm: 0, rightMm: 0 });

/** An average horse's blade (TRADE 5, invented), for backs that state none. */
export const AVERAGE_BLADE = Object.freeze({ heightMm: 12, swingMm: 55 });

/** The blades of a document that may leave them out. */
export function bladesOf(heightMm: number | undefined, swingMm: number | undefined): Blades {
  const height = heightMm ?? AVERAGE_BLADE.heightMm;
  return {
    heightLeftMm: height,
    heightRightMm: height,
    swingMm: swingMm ?? AVERAGE_BLADE.swingMm,
    assumed: [
      ...(heightMm === undefined ? (['height'] as const) : []),
      ...(swingMm === undefined ? (['swing'] as const) : []),
    ],
  };
}

/**
 * A standing back with its blades elsewhere: each patch is taken away where it stood and put where it went, blade edges
 * go with it. The frame stays the standing back's.
 */
export function moveBlades(standing: BackSurface, at: BladePositions): BackSurface {
  const { bladeEdgeLeft: left, bladeEdgeRight: right } = standing.landmarks;
  const { heightLeftMm, heightRightMm } = standing.blades;
  const lift = patchLift(
    movedPatch(heightLeftMm, left[0], at.leftMm, at.riseLeftMm ?? 0),
    movedPatch(heightRightMm, right[0], at.rightMm, at.riseRightMm ?? 0),
  );
  const lifted = standing.lifted(lift);
  if (lifted === standing) return standing;
  return viewOn(lifted, {
    landmarks: {
      ...standing.landmarks,
      bladeEdgeLeft: [left[0] + at.leftMm, left[1], left[2]],
      bladeEdgeRight: [right[0] + at.rightMm, right[1], right[2]],
    },
  });
}

const movedPatch = (heightMm: number, edgeXMm: number, byMm: number, riseMm: number): MovedPatch => ({
  standing: { heightMm, edgeXMm },
  moved: { heightMm: heightMm + riseMm, edgeXMm: edgeXMm + byMm },
});
