import { InputError, symmetricEigen } from '../numeric/index.ts';
import { type MeshFromPoints, meshFromPoints, scatterAlong } from '../surface/index.ts';
import { AXES, angleDeg, axisVector, dot, type Vector } from './propose-part.ts';
import { readShape, spreadSamples } from './propose-shape.ts';

/** The way up that a cloud suggests, in its own axes, and the figures that say so. */
export interface CloudUp {
  readonly up: Vector;
  /** Median distance of points to their cell's plane over the cell's side: small where one smooth sheet is seen. */
  readonly scatterShare: number;
  /** The same for the best direction that is not this line. */
  readonly nextShare: number;
  /** Share of the points that lie below what is seen. */
  readonly belowShare: number;
  /** Above 0 when this end of the line, and not the other, is up. */
  readonly signScore: number;
}

const COARSE_POINTS = 6000;
/** With more than this share of the points below, the sign comes from how deep the seen surface lies. */
const UNDERSIDE_SHARE = 0.1;
const NEARLY_AS_WELL = 1.25;
const ROUNDS = 3;
const SAME_LINE_DEG = 45;
/** Directions spread over the half sphere, some 20 degrees apart. */
const SPREAD = 50;

/**
 * Up of a cloud whose axes nobody named. Seen along up, and along no other line, a back is one smooth sheet: seen from the side or from
 * the end, its near and far half fall into the same cells, and the points scatter about any plane. So the axes of the file, the principal
 * directions and fifty more are tried, the best line is turned towards the mean normal of what is seen along it, and its sign is read from
 * the shape: the rim of a back lies below its middle, and when much lies underneath (belly, legs, floor), the back is on top. Our own
 * rules, no source. Points in any unit.
 * @throws InputError of meshFromPoints when no direction gives a surface
 */
export function findCloudUp(positions: Float64Array): CloudUp {
  const points = thinned(positions);
  const lines = [
    ...AXES.filter((axis) => axis[0] === '+').map(axisVector),
    ...principalDirections(points),
    ...spreadLines(),
  ];
  const seen = lines.flatMap((up) => {
    const one = unless(() => scatterAlong(points, up));
    return one === null || one instanceof InputError ? [] : [{ up, share: one.scatter / one.spacing }];
  });
  if (seen.length === 0) {
    const { scatter, spacing } = meshFromPoints(points, { up: lines[0] });
    seen.push({ up: lines[0], share: scatter / spacing });
  }
  seen.sort((a, b) => a.share - b.share);
  // Most files lie level: an axis of the file that does nearly as well goes first.
  const level = seen.find(({ up, share }) => isFileAxis(up) && share < NEARLY_AS_WELL * seen[0].share);
  let up = (level ?? seen[0]).up;
  for (let round = 0; round < ROUNDS; round++) up = towardsMeanNormal(points, up);
  const line = readLine(points, up);
  const apart = seen.find((other) => lineAngle(other.up, up) > SAME_LINE_DEG);
  return { ...line, nextShare: apart?.share ?? Number.POSITIVE_INFINITY };
}

const isFileAxis = (up: Vector): boolean => up.filter((value) => value === 0).length === 2;

/** Every so many-th point. */
function thinned(positions: Float64Array): Float64Array {
  const count = positions.length / 3;
  if (count <= COARSE_POINTS) return positions;
  const out = new Float64Array(3 * COARSE_POINTS);
  for (let i = 0; i < COARSE_POINTS; i++) {
    const from = 3 * Math.floor((i * count) / COARSE_POINTS);
    out.set(positions.subarray(from, from + 3), 3 * i);
  }
  return out;
}

const tryDirection = (points: Float64Array, up: Vector): MeshFromPoints | InputError =>
  unless(() => meshFromPoints(points, { up }));

function unless<T>(make: () => T): T | InputError {
  try {
    return make();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
}

const lineAngle = (a: Vector, b: Vector): number => Math.min(angleDeg(a, b), 180 - angleDeg(a, b));

/** The mean normal of the surface seen along a direction; the direction itself when it would lead away from one sheet. */
function towardsMeanNormal(points: Float64Array, up: Vector): Vector {
  const made = tryDirection(points, up);
  if (made instanceof InputError) return up;
  const shape = readShape(made.mesh, spreadSamples(made.mesh, 100));
  const next: Vector = dot(shape.up, up) < 0 ? [-shape.up[0], -shape.up[1], -shape.up[2]] : shape.up;
  const better = unless(() => scatterAlong(points, next));
  if (better === null || better instanceof InputError) return up;
  return better.scatter / better.spacing < 1.5 * (made.scatter / made.spacing) ? next : up;
}

/** Both ends of a line: which is up. */
function readLine(points: Float64Array, line: Vector): Omit<CloudUp, 'nextShare'> {
  const ends = [line, [-line[0], -line[1], -line[2]] as Vector].map((up) => readEnd(points, up));
  const [a, b] = ends;
  const below = Math.min(a.belowShare, b.belowShare);
  const score = (end: End, other: End): number =>
    below > UNDERSIDE_SHARE ? other.depthShare - end.depthShare : end.bulge - other.bulge;
  const isFirst = score(a, b) >= 0;
  const best = isFirst ? a : b;
  return {
    up: best.up,
    scatterShare: best.scatterShare,
    belowShare: best.belowShare,
    signScore: Math.abs(score(a, b)),
  };
}

interface End {
  readonly up: Vector;
  readonly scatterShare: number;
  readonly belowShare: number;
  /** How far the rim lies below the middle, over the root of the area; below 0 when it lies above. */
  readonly bulge: number;
  /** Middle depth of what is seen below the highest point, over the whole height. */
  readonly depthShare: number;
}

function readEnd(points: Float64Array, up: Vector): End {
  const made = meshFromPoints(points, { up });
  const shape = readShape(made.mesh, spreadSamples(made.mesh, 100));
  const all = heights(points, up);
  const seen = heights(made.mesh.positions, up);
  const top = all[Math.floor(0.99 * (all.length - 1))];
  const span = top - all[Math.ceil(0.01 * (all.length - 1))];
  return {
    up,
    scatterShare: made.scatter / made.spacing,
    belowShare: made.pointsBelow / (made.pointsBelow + made.pointsUsed),
    bulge: shape.facesUp ? shape.bulge : -shape.bulge,
    depthShare: span > 0 ? (top - seen[seen.length >> 1]) / span : 0,
  };
}

function heights(positions: Float64Array, up: Vector): Float64Array {
  const out = new Float64Array(positions.length / 3);
  for (let i = 0; i < out.length; i++) out[i] = dot(up, positions.subarray(3 * i, 3 * i + 3));
  return out.sort();
}

/** Even over the upper half sphere: heights in equal steps, each a golden angle further round. */
function spreadLines(): Vector[] {
  return Array.from({ length: SPREAD }, (_, i) => {
    const height = (i + 0.5) / SPREAD;
    const round = i * Math.PI * (3 - Math.sqrt(5));
    const out = Math.sqrt(1 - height * height);
    return [out * Math.cos(round), out * Math.sin(round), height];
  });
}

function principalDirections(points: Float64Array): Vector[] {
  const n = points.length / 3;
  const mean = [0, 0, 0];
  for (let i = 0; i < points.length; i++) mean[i % 3] += points[i] / n;
  const product = new Float64Array(9);
  for (let i = 0; i < points.length; i += 3) {
    for (let r = 0; r < 9; r++) {
      const [a, b] = [Math.floor(r / 3), r % 3];
      product[r] += (points[i + a] - mean[a]) * (points[i + b] - mean[b]);
    }
  }
  return symmetricEigen(product, 3).vectors.map(([x, y, z]) => [x, y, z] as Vector);
}
