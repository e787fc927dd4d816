import { rotationOf, seededRandom } from '../numeric/index.ts';
import { heightMesh } from '../spatial/mesh.fixture.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { BackSurface, Vec3 } from './back-surface.ts';
import { buildSectionsBack } from './build-sections-back.ts';
import { type DemoBack, demoBack } from './demo-backs.fixture.ts';
import { AXES, type Axis, axisVector, cross, dot } from './propose-part.ts';
import { SCAN_UNIT_MM } from './scan-schema.ts';

export type Unit = keyof typeof SCAN_UNIT_MM;
export const UNITS = Object.keys(SCAN_UNIT_MM) as Unit[];
export const NAMES = ['bladeEdgeLeft', 'bladeEdgeRight', 'withersTop', 'lowPoint', 'lastRib'] as const;

export interface AxisOrder {
  readonly tail: Axis;
  readonly right: Axis;
  readonly up: Axis;
}

/** All 24 right-handed ways in which a file's axes can name tail, right and up. */
export const AXIS_ORDERS: readonly AxisOrder[] = AXES.flatMap((tail) =>
  AXES.filter((right) => right[1] !== tail[1]).map((right) => {
    const up = cross(axisVector(tail), axisVector(right));
    return { tail, right, up: AXES.find((axis) => dot(axisVector(axis), up) > 0.5)! };
  }),
);

/** A demo horse in its own frame, as a scanner's mesh; noise in mm. */
export function demoMesh(name: DemoBack, spacing: number, noiseMm = 0): { back: BackSurface; mesh: TriangleMesh } {
  const back = buildSectionsBack(demoBack(name));
  const mesh = heightMesh((x, y) => back.heightMm(x, y), [-95, 690], [-230, 230], spacing, 41, undefined, noiseMm);
  return { back, mesh };
}

/** Where a point of the horse frame (mm) lies in a file: p_file = (axes^T turn^T p + shift) / unit. */
export function filePlace(order: AxisOrder, unit: Unit, turn: readonly number[] = [1, 0, 0, 0, 1, 0, 0, 0, 1]) {
  const rows = [axisVector(order.tail), axisVector(order.right), axisVector(order.up)];
  const shift = [812, -344, 1391];
  return (p: ArrayLike<number>): Vec3 => {
    const named = [0, 1, 2].map((k) => rows[0][k] * p[0] + rows[1][k] * p[1] + rows[2][k] * p[2]);
    return [0, 1, 2].map(
      (k) => (turn[k] * named[0] + turn[3 + k] * named[1] + turn[6 + k] * named[2] + shift[k]) / SCAN_UNIT_MM[unit],
    ) as unknown as Vec3;
  };
}

export function movedMesh(mesh: TriangleMesh, place: (p: ArrayLike<number>) => Vec3): TriangleMesh {
  const positions = new Float64Array(mesh.positions.length);
  for (let k = 0; k < positions.length; k += 3) positions.set(place(mesh.positions.subarray(k, k + 3)), k);
  return { positions, triangles: mesh.triangles };
}

/** Random rotations, uniform in their Euler angles: general enough to leave no axis alone. */
export function randomTurns(seed: number, count: number): number[][] {
  const random = seededRandom(seed);
  const angle = () => 2 * Math.PI * random();
  return Array.from({ length: count }, () => rotationOf({ rollRad: angle(), pitchRad: angle(), yawRad: angle() }));
}

/** A small xyz turn in degrees, as of a horse that stood askew to the scanner. */
export const smallTurn = (rollDeg: number, pitchDeg: number, yawDeg: number): number[] =>
  rotationOf({
    rollRad: (rollDeg * Math.PI) / 180,
    pitchRad: (pitchDeg * Math.PI) / 180,
    yawRad: (yawDeg * Math.PI) / 180,
  });
