import { matrixOf, rotationOf } from '../numeric/index.ts';

/** Where the bars are: the bar frame's origin in the horse frame (mm) and R = Rz(yaw) Ry(pitch) Rx(roll). */
export interface Pose {
  readonly xMm: number;
  readonly yMm: number;
  readonly zMm: number;
  readonly rollRad: number;
  readonly pitchRad: number;
  readonly yawRad: number;
}

/** Order of the six freedoms in every vector and matrix of this folder. */
export const FREEDOMS = ['x', 'y', 'z', 'roll', 'pitch', 'yaw'] as const;
export type Freedom = (typeof FREEDOMS)[number];

/** Height, pitch and roll: what a loaded tree finds by itself (DESIGN 4). */
export const SEATING_FREEDOMS: readonly Freedom[] = ['z', 'roll', 'pitch'];

/** Rotations are measured as the arc at this lever so that all six unknowns are millimetres, mm. */
export const LEVER_MM = 200;

/** Row-major 4x4 from bar frame to horse frame. */
export function barToHorse(pose: Pose): number[] {
  return matrixOf(rotationOf(pose), [pose.xMm, pose.yMm, pose.zMm]);
}

/** The pose moved by a step in the scaled unknowns (mm, rotations as arc at LEVER_MM). */
export function movePose(pose: Pose, step: ArrayLike<number>): Pose {
  return {
    xMm: pose.xMm + step[0]!,
    yMm: pose.yMm + step[1]!,
    zMm: pose.zMm + step[2]!,
    rollRad: pose.rollRad + step[3]! / LEVER_MM,
    pitchRad: pose.pitchRad + step[4]! / LEVER_MM,
    yawRad: pose.yawRad + step[5]! / LEVER_MM,
  };
}

/** Axes about which roll, pitch and yaw turn at this pose, 3 x 3 by rows. Outer rotations carry the inner axes. */
export function rotationAxes(pose: Pose): readonly (readonly [number, number, number])[] {
  const cy = Math.cos(pose.yawRad);
  const sy = Math.sin(pose.yawRad);
  const cp = Math.cos(pose.pitchRad);
  const sp = Math.sin(pose.pitchRad);
  return [
    [cy * cp, sy * cp, -sp],
    [-sy, cy, 0],
    [0, 0, 1],
  ];
}
