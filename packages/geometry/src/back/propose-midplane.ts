import { downhillStep } from '../numeric/index.ts';
import { createNearestHit, type NearestQuery } from '../spatial/index.ts';
import { cross, dot, unitVector, type Vector } from './propose-part.ts';

/** A plane n . p = offset that a surface is nearly its own mirror image in. */
export interface MirrorPlane {
  readonly normal: Vector;
  readonly offsetMm: number;
  /** Root mean square distance between the surface and its mirror image over the best-matching four fifths, mm. */
  readonly residualMm: number;
  /** Share of the sample points whose mirror image falls on the surface, 0..1. */
  readonly overlap: number;
}

export interface MirrorStart {
  readonly normal: Vector;
  readonly offsetMm: number;
}

const KEPT_SHARE = 0.8;
const ROUNDS = 25;
/** Angles count as so many millimetres, so that one floor serves all unknowns. */
const LEVER_MM = 200;
const TURNS_DEG = [-16, -8, 0, 8, 16];
const SHIFTS_MM = [-120, -80, -40, 0, 40, 80, 120];
const COARSE_SAMPLES = 150;

/**
 * The best mirror plane near a start, by Gauss-Newton on the distances of mirrored sample points to the surface, a fifth
 * of them left out each round so that a hole, a tuft or a one-sided muscle does not tip it.
 *
 * `up`: the plane is kept parallel to it, and turns and shifts are tried first; null: it may lean. Samples as from spreadSamples, mm.
 */
export function findMirrorPlane(
  samples: Float64Array,
  nearest: NearestQuery,
  triangleNormal: (triangle: number) => Vector,
  start: MirrorStart,
  up: Vector | null,
): MirrorPlane {
  const measure = createMeasure(samples, nearest, triangleNormal);
  let plane = up === null ? start : bestStart(measure, start, up);
  let best = { plane, ...measure(plane, 1).figures };
  for (let round = 0; round < ROUNDS; round++) {
    const { rows, figures } = measure(plane, 1);
    if (better(figures, best)) best = { plane, ...figures };
    const step = gaussNewton(rows, plane, up);
    plane = step.plane;
    if (step.sizeMm < 1e-3) break;
  }
  const last = measure(plane, 1).figures;
  if (better(last, best)) best = { plane, ...last };
  return { ...best.plane, residualMm: best.residualMm, overlap: best.overlap };
}

/** p, residual and surface normal of one mirrored point. */
interface Row {
  readonly p: Vector;
  readonly residual: number;
  readonly normal: Vector;
}

interface Figures {
  readonly residualMm: number;
  readonly overlap: number;
}

const better = (a: Figures, b: Figures): boolean => cost(a) < cost(b);
/** A plane that hardly overlaps says nothing: the residual counts more the less there is of it. */
const cost = ({ residualMm, overlap }: Figures): number => (residualMm + 1) / Math.max(0.05, overlap);

type Measure = (plane: MirrorStart, stride: number) => { rows: readonly Row[]; figures: Figures };

function createMeasure(
  samples: Float64Array,
  nearest: NearestQuery,
  triangleNormal: (triangle: number) => Vector,
): Measure {
  const hit = createNearestHit();
  return ({ normal: n, offsetMm }, stride) => {
    const rows: Row[] = [];
    let asked = 0;
    for (let i = 0; i < samples.length; i += 6 * stride, asked++) {
      const p: Vector = [samples[i], samples[i + 1], samples[i + 2]];
      const away = 2 * (dot(n, p) - offsetMm);
      const [x, y, z] = [p[0] - away * n[0], p[1] - away * n[1], p[2] - away * n[2]];
      nearest(x, y, z, hit);
      if (hit.triangle < 0) continue;
      const normal = triangleNormal(hit.triangle);
      const residual = normal[0] * (x - hit.x) + normal[1] * (y - hit.y) + normal[2] * (z - hit.z);
      const distance = Math.sqrt(hit.squaredDistance);
      // Beside the rim or a hole the nearest point lies askew: no counterpart there.
      if (Math.sqrt(Math.max(0, distance * distance - residual * residual)) > 2 + 0.3 * distance) continue;
      rows.push({ p, residual, normal });
    }
    rows.sort((a, b) => Math.abs(a.residual) - Math.abs(b.residual));
    const kept = rows.slice(0, Math.ceil(KEPT_SHARE * rows.length));
    const square = kept.reduce((sum, { residual }) => sum + residual * residual, 0);
    const residualMm = kept.length === 0 ? Number.POSITIVE_INFINITY : Math.sqrt(square / kept.length);
    return { rows: kept, figures: { residualMm, overlap: asked === 0 ? 0 : rows.length / asked } };
  };
}

/** The best of a few turns about up and shifts. */
function bestStart(measure: Measure, start: MirrorStart, up: Vector): MirrorStart {
  const stride = 6;
  let best = start;
  let least = Number.POSITIVE_INFINITY;
  for (const turn of TURNS_DEG) {
    const normal = turned(start.normal, up, (turn * Math.PI) / 180);
    for (const shift of SHIFTS_MM) {
      const plane = { normal, offsetMm: start.offsetMm + shift };
      const { rows, figures } = measure(plane, stride);
      if (rows.length >= COARSE_SAMPLES / stride / 2 && cost(figures) < least) {
        least = cost(figures);
        best = plane;
      }
    }
  }
  return best;
}

const leastAlong = (n: Vector): Vector => {
  const other: Vector = Math.abs(n[2]) < 0.8 ? [0, 0, 1] : [1, 0, 0];
  return unitVector(cross(n, cross(other, n)));
};

function turned(v: Vector, axis: Vector, rad: number): Vector {
  const [c, s] = [Math.cos(rad), Math.sin(rad)];
  const side = cross(axis, v);
  const along = (1 - c) * dot(axis, v);
  return [0, 1, 2].map((k) => c * v[k] + s * side[k] + along * axis[k]) as Vector;
}

/**
 * One step of offset and normal. With p' = p - 2 (n . p - d) n a change of n by dn and of d by dd moves p' by
 * -2 (dn . p - dd) n - 2 (n . p - d) dn; the residual changes by its part along the surface normal.
 */
function gaussNewton(
  rows: readonly Row[],
  plane: MirrorStart,
  up: Vector | null,
): { plane: MirrorStart; sizeMm: number } {
  const { normal: n, offsetMm } = plane;
  const across = up === null ? leastAlong(n) : up;
  const basis: Vector[] = up === null ? [across, cross(n, across)] : [cross(n, across)];
  const size = basis.length + 1;
  const h = new Float64Array(size * size);
  const g = new Float64Array(size);
  const pivot = rows.reduce<Vector>((s, { p }) => [s[0] + p[0], s[1] + p[1], s[2] + p[2]], [0, 0, 0]);
  const centre = pivot.map((value) => value / Math.max(1, rows.length));
  for (const { p, residual, normal } of rows) {
    const away = dot(n, p) - offsetMm;
    const facing = dot(normal, n);
    // Turning about the middle of the points keeps turning and shifting apart.
    const arm = [p[0] - centre[0], p[1] - centre[1], p[2] - centre[2]];
    const slopes = basis.map((e) => (-2 * dot(e, arm) * facing - 2 * away * dot(normal, e)) / LEVER_MM);
    slopes.push(2 * facing);
    for (let r = 0; r < size; r++) {
      g[r] += slopes[r] * residual;
      for (let c = 0; c < size; c++) h[r * size + c] += slopes[r] * slopes[c];
    }
  }
  const step = downhillStep(h, g, size, 1e-6 * Math.max(1, rows.length));
  const next = [n[0], n[1], n[2]];
  for (const [i, e] of basis.entries()) for (let k = 0; k < 3; k++) next[k] += (step[i] / LEVER_MM) * e[k];
  const normal = unitVector(next);
  const moved = offsetMm + step[basis.length];
  // The offset was measured from the middle of the points: there the plane only shifts.
  const offset = moved + dot(normal, centre) - dot(n, centre);
  return { plane: { normal, offsetMm: offset }, sizeMm: Math.hypot(...step) };
}
