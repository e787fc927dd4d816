import type { TriangleTree } from '../spatial/build-triangle-tree.ts';
import { createNearestQuery, type NearestQuery } from '../spatial/index.ts';
import { areaVector } from '../surface/mesh-measures.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { findMirrorPlane, type MirrorPlane } from './propose-midplane.ts';
import {
  AXES,
  type Axis,
  angleDeg,
  axisVector,
  type Confidence,
  cross,
  dot,
  nearestAxis,
  oppositeAxis,
  type Proposal,
  saidSo,
  squareTo,
  unitVector,
  type Vector,
} from './propose-part.ts';
import { mostFalling, readShape, type ScanShape, spreadSamples } from './propose-shape.ts';

export interface OrientationHints {
  readonly tail?: Axis;
  readonly right?: Axis;
  readonly up?: Axis;
  readonly statedUp?: '+y' | '+z';
  readonly mirrored?: boolean;
}

/** Which way a scan lies, but for head and tail: directions in the file's axes. */
export interface Orientation {
  readonly up: Proposal<Axis>;
  /** Null when the file's axes serve; else up and along, which become z and x of the turned coordinates. */
  readonly askew: { readonly up: Vector; readonly along: Vector } | null;
  readonly turnReason: string;
  /** The axis along the horse, one way or the other. */
  readonly along: Vector;
  readonly plane: MirrorPlane;
  /** Angle of the freely leaning mirror plane to up, degrees. */
  readonly leanDeg: number;
  readonly shape: ScanShape;
}

const SAMPLES = 1200;
/** A file axis this near to the mean normal can be up: withers higher than the loin tip that by 1 to 4 degrees on our demo horses. */
export const UP_WITHIN_DEG = 14;
const UP_CLEAR_DEG = 8;
/** ... and the mirror plane leans from it by no more than this. */
const LEAN_WITHIN_DEG = 4;
const LEAN_CLEAR_DEG = 2.5;
const YAW_WITHIN_DEG = 25;
const LEAST_OPENNESS = 0.3;

/** Up, the mirror plane and the direction along the horse. Mesh in mm, file axes. */
export function proposeOrientation(mesh: TriangleMesh, tree: TriangleTree, hints: OrientationHints): Orientation {
  const samples = spreadSamples(mesh, SAMPLES);
  const shape = readShape(mesh, samples);
  const nearest = createNearestQuery(mesh, tree);
  const normal = triangleNormals(mesh);
  const mirror = (up: Vector, across: Vector): MirrorPlane =>
    findMirrorPlane(samples, nearest, normal, { normal: across, offsetMm: dot(across, shape.centre) }, up);
  const fixed = hints.up ?? impliedUp(hints);
  if (fixed !== undefined) {
    const up = axisVector(fixed);
    const plane = mirror(up, acrossOf(hints, samples, up, shape));
    const leanDeg = leanOf(plane, samples, nearest, normal, up);
    return { ...settle(up, plane, leanDeg, shape, hints), up: saidSo(fixed) };
  }
  const first = mirror(shape.up, shape.across);
  const free = findMirrorPlane(samples, nearest, normal, first, null);
  const { axis, deg } = nearestAxis(shape.openness < LEAST_OPENNESS ? axisVector(hints.statedUp ?? '+z') : shape.up);
  const axisUp = axisVector(axis);
  const leanDeg = Math.abs((Math.asin(dot(free.normal, axisUp)) * 180) / Math.PI);
  if (deg <= UP_WITHIN_DEG && leanDeg <= LEAN_WITHIN_DEG) {
    const plane = mirror(axisUp, squareTo(free.normal, axisUp));
    const up = upProposal(axis, deg, leanDeg, shape, hints);
    return { ...settle(axisUp, plane, leanDeg, shape, hints), up };
  }
  const up = squareTo(shape.up, free.normal);
  return askewOrientation(up, free, shape, axis, deg, leanDeg);
}

/** Up from the other two named axes, by the left hand when the file is mirrored. */
export function impliedUp({ tail, right, mirrored }: OrientationHints): Axis | undefined {
  if (tail === undefined || right === undefined || tail[1] === right[1]) return undefined;
  const up = cross(axisVector(tail), axisVector(right));
  return AXES.find((axis) => (mirrored === true ? -1 : 1) * dot(axisVector(axis), up) > 0.5);
}

function acrossOf(hints: OrientationHints, samples: Float64Array, up: Vector, shape: ScanShape): Vector {
  if (hints.right !== undefined) return squareTo(axisVector(hints.right), up);
  if (hints.tail !== undefined) return unitVector(cross(up, axisVector(hints.tail)));
  return mostFalling(samples, up, shape.centre).across;
}

function leanOf(
  plane: MirrorPlane,
  samples: Float64Array,
  nearest: NearestQuery,
  normal: (triangle: number) => Vector,
  up: Vector,
): number {
  const free = findMirrorPlane(samples, nearest, normal, plane, null);
  return Math.abs((Math.asin(dot(free.normal, up)) * 180) / Math.PI);
}

/** With up an axis of the file: the file's axes where one lies along the horse, else a turn about up. */
function settle(
  up: Vector,
  plane: MirrorPlane,
  leanDeg: number,
  shape: ScanShape,
  hints: OrientationHints,
): Omit<Orientation, 'up'> {
  const along = cross(plane.normal, up);
  const level = AXES.filter((axis) => Math.abs(dot(axisVector(axis), up)) < 0.5);
  const { deg } = nearestAxis(along, level);
  const hasTail = hints.tail !== undefined || hints.right !== undefined;
  const isAskew = deg > YAW_WITHIN_DEG && !hasTail;
  const turnReason = isAskew
    ? `The mirror plane stands ${deg.toFixed(1)} degrees off the nearest axis of the file, so the file is turned about up.`
    : `An axis of the file lies within ${deg.toFixed(1)} degrees of the mirror plane; the midplane through the landmarks takes up the rest.`;
  return { askew: isAskew ? { up, along } : null, turnReason, along, plane, leanDeg, shape };
}

function upProposal(
  axis: Axis,
  deg: number,
  leanDeg: number,
  shape: ScanShape,
  hints: OrientationHints,
): Proposal<Axis> {
  const isOpen = shape.openness >= LEAST_OPENNESS;
  const agrees = hints.statedUp === undefined || axis === hints.statedUp;
  const opposite = oppositeAxis(axis);
  const winding = shape.facesUp ? '' : ' The triangles face the other way: they look turned inside out.';
  const stated = agrees ? '' : ` The file's format calls ${hints.statedUp} up.`;
  const reason = isOpen
    ? `The rim lies below the middle along ${axis}, ${deg.toFixed(1)} degrees from the mean normal, and the mirror plane leans ${leanDeg.toFixed(1)} degrees from it.${winding}${stated}`
    : 'The surface is nearly closed, so its open side does not tell up; taken from the format, or z.';
  return {
    value: axis,
    alternatives: [{ value: opposite, score: 0.1, reason: 'The same, seen from inside the horse.' }],
    reason,
    confidence: trustUp(isOpen, deg, leanDeg, shape, agrees),
    given: false,
  };
}

function trustUp(isOpen: boolean, deg: number, leanDeg: number, shape: ScanShape, agrees: boolean): Confidence {
  if (!isOpen || shape.bulge < 0.02) return 'unsure';
  return deg <= UP_CLEAR_DEG && leanDeg <= LEAN_CLEAR_DEG && shape.facesUp && agrees ? 'clear' : 'likely';
}

function askewOrientation(
  up: Vector,
  plane: MirrorPlane,
  shape: ScanShape,
  axis: Axis,
  deg: number,
  leanDeg: number,
): Orientation {
  const along = cross(plane.normal, up);
  const reason =
    `No axis of the file is up: the nearest, ${axis}, is ${deg.toFixed(1)} degrees from the mean normal and ` +
    `${leanDeg.toFixed(1)} degrees from the mirror plane. Up is the mean normal within the mirror plane; how far the horse is ` +
    'tipped front to back the shape does not tell to better than some 10 degrees: save the scan level, or state the turn.';
  return {
    up: {
      value: '+z',
      alternatives: [{ value: axis, score: 0.2, reason: 'The nearest axis of the file, without a turn.' }],
      reason,
      confidence: 'unsure',
      given: false,
    },
    askew: { up, along },
    turnReason: reason,
    along,
    plane,
    leanDeg: angleDeg(up, shape.up),
    shape,
  };
}

function triangleNormals({ positions, triangles: t }: TriangleMesh): (triangle: number) => Vector {
  const vector = new Float64Array(3);
  return (f) => {
    areaVector(positions, t[3 * f], t[3 * f + 1], t[3 * f + 2], vector);
    const size = Math.hypot(vector[0], vector[1], vector[2]);
    return [vector[0] / size, vector[1] / size, vector[2] / size];
  };
}
