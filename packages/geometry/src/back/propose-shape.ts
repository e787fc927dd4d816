import { symmetricEigen } from '../numeric/index.ts';
import { boundaryEdges } from '../surface/index.ts';
import { areaVector } from '../surface/mesh-measures.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { cross, dot, squareTo, unitVector, type Vector } from './propose-part.ts';

/** What the bare shape says about which way it lies; directions in the mesh's own coordinates. */
export interface ScanShape {
  /** Mean of the area normals, turned towards the side that bulges. */
  readonly up: Vector;
  /** Length of the summed area vectors over the area: 0 closed, 1 flat. */
  readonly openness: number;
  /** Whether the triangles face the side that bulges. */
  readonly facesUp: boolean;
  /** How far the rim lies below the middle, over the square root of the area. */
  readonly bulge: number;
  /** At right angles to up: the direction across which the surface falls away most on both sides. */
  readonly across: Vector;
  /** Curvature across over that along, both of the best quadratic; Infinity when it does not fall away along at all. */
  readonly curvatureRatio: number;
  readonly centre: Vector;
}

/**
 * Up: the mean area normal; its sign from the rim, which lies below the middle of a back. Across: the direction of
 * greatest fall of the quadratic fitted over it, because a back is round across and hollow or straight along. Our own
 * rules, no source.
 */
export function readShape(mesh: TriangleMesh, samples: Float64Array): ScanShape {
  const { sum, area, centre } = integrals(mesh);
  const length = Math.hypot(...sum);
  const facing: Vector = length > 1e-9 * area ? unitVector(sum) : [0, 0, 1];
  const rim = rimCentre(mesh);
  const below = rim === null ? 0 : dot(facing, centre) - dot(facing, rim);
  const facesUp = below >= 0;
  const up: Vector = facesUp ? facing : [-facing[0], -facing[1], -facing[2]];
  return {
    up,
    openness: length / area,
    facesUp,
    bulge: Math.abs(below) / Math.sqrt(area),
    centre,
    ...mostFalling(samples, up, centre),
  };
}

/** The direction across which the fitted quadratic falls away most, at right angles to a given up. */
export function mostFalling(
  samples: Float64Array,
  up: Vector,
  centre: Vector,
): { across: Vector; curvatureRatio: number } {
  const e1 = squareTo(Math.abs(up[0]) < 0.8 ? [1, 0, 0] : [0, 1, 0], up);
  const e2 = cross(up, e1);
  const [a, b, c] = quadraticTerms(samples, [e1, e2, up], centre);
  const { values, vectors } = symmetricEigen([2 * a, b, b, 2 * c], 2);
  const [s, t] = vectors[0];
  const across: Vector = unitVector([0, 1, 2].map((k) => s * e1[k] + t * e2[k]));
  const along = -values[1];
  return { across, curvatureRatio: along > 0 ? -values[0] / along : Number.POSITIVE_INFINITY };
}

/** Terms a, b, c of h = a u^2 + b u v + c v^2 + ... by least squares over the sample points. */
function quadraticTerms(samples: Float64Array, axes: readonly Vector[], centre: Vector): number[] {
  const normal = new Float64Array(36);
  const right = new Float64Array(6);
  // Lengths near 1, so that the normal equations stay well conditioned.
  const scale = 300;
  for (let i = 0; i < samples.length; i += 6) {
    const p = [samples[i] - centre[0], samples[i + 1] - centre[1], samples[i + 2] - centre[2]];
    const [u, v, h] = axes.map((axis) => dot(axis, p) / scale);
    const row = [u * u, u * v, v * v, u, v, 1];
    for (let r = 0; r < 6; r++) {
      right[r] += row[r] * h;
      for (let c = 0; c < 6; c++) normal[6 * r + c] += row[r] * row[c];
    }
  }
  const { values, vectors } = symmetricEigen(normal, 6);
  const out = [0, 0, 0];
  for (let k = 0; k < 6; k++) {
    if (values[k] <= 1e-12 * values[5]) continue;
    const share = vectors[k].reduce((sum, value, r) => sum + value * right[r], 0) / values[k];
    for (let r = 0; r < 3; r++) out[r] += share * vectors[k][r];
  }
  return out;
}

function integrals({ positions: p, triangles: t }: TriangleMesh): { sum: Vector; area: number; centre: Vector } {
  const vector = new Float64Array(3);
  const sum: Vector = [0, 0, 0];
  const centre: Vector = [0, 0, 0];
  let area = 0;
  for (let i = 0; i < t.length; i += 3) {
    areaVector(p, t[i], t[i + 1], t[i + 2], vector);
    const size = Math.hypot(vector[0], vector[1], vector[2]);
    area += size;
    for (let k = 0; k < 3; k++) {
      sum[k] += vector[k];
      centre[k] += (size * (p[3 * t[i] + k] + p[3 * t[i + 1] + k] + p[3 * t[i + 2] + k])) / 3;
    }
  }
  return { sum, area, centre: [centre[0] / area, centre[1] / area, centre[2] / area] };
}

function rimCentre(mesh: TriangleMesh): Vector | null {
  const { positions: p, triangles: t } = mesh;
  const flags = boundaryEdges(mesh);
  const sum: Vector = [0, 0, 0];
  let total = 0;
  for (let h = 0; h < t.length; h++) {
    if (flags[h] === 0) continue;
    const a = 3 * t[h];
    const b = 3 * t[h % 3 === 2 ? h - 2 : h + 1];
    const length = Math.hypot(p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]);
    total += length;
    for (let k = 0; k < 3; k++) sum[k] += (length * (p[a + k] + p[b + k])) / 2;
  }
  return total > 0 ? [sum[0] / total, sum[1] / total, sum[2] / total] : null;
}

/** Points spread evenly over the area with their triangles' normals: x y z nx ny nz by point. The same every time. */
export function spreadSamples({ positions: p, triangles: t }: TriangleMesh, count: number): Float64Array {
  const vector = new Float64Array(3);
  const sizes = new Float64Array(t.length / 3);
  for (let f = 0; f < sizes.length; f++) {
    areaVector(p, t[3 * f], t[3 * f + 1], t[3 * f + 2], vector);
    sizes[f] = Math.hypot(vector[0], vector[1], vector[2]);
  }
  const total = sizes.reduce((a, b) => a + b, 0);
  // Triangles in a scrambled order (golden-ratio hashing), so that rows of a grid are not sampled in step.
  const order = Array.from(sizes.keys()).sort((a, b) => scrambled(a) - scrambled(b));
  const out: number[] = [];
  let passed = 0;
  let next = total / count / 2;
  for (const f of order) {
    passed += sizes[f];
    if (passed < next) continue;
    while (next <= passed) next += total / count;
    areaVector(p, t[3 * f], t[3 * f + 1], t[3 * f + 2], vector);
    const middle = [0, 1, 2].map((k) => (p[3 * t[3 * f] + k] + p[3 * t[3 * f + 1] + k] + p[3 * t[3 * f + 2] + k]) / 3);
    out.push(...middle, vector[0] / sizes[f], vector[1] / sizes[f], vector[2] / sizes[f]);
  }
  return Float64Array.from(out);
}

const scrambled = (n: number): number => Math.imul(n + 1, 0x9e3779b1) >>> 0;
