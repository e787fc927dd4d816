import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { createQuadraticFit, frameAt, intoLocal } from './clean-scan-fit.ts';
import { findNeighbours, type Neighbours, robustSigma } from './clean-scan-neighbours.ts';

export interface HairRules {
  /** A tuft stands off the smoothed surface by more than this, mm, and by more than three standard deviations. */
  readonly standsOffMm: number;
  /** Wider than this it is shape (a muscle, a fold) and stays, mm. */
  readonly widestMm: number;
}

/** The surface is smoothed over this radius: wider than a tuft, narrower than the shapes that matter. */
const RADIUS_MM = 45;
const CELL_MM = 7;
const REWEIGHTS = 4;
/** Tukey's constant for 95 % efficiency under normal noise (Holland & Welsch 1977, from memory). */
const TUKEY = 4.685;
const LEAST_SIGMA_MM = 0.3;
/** A tuft is at least so many vertices, two of them beyond the limit; fewer is a spike's business. */
const LEAST_VERTICES = 3;
const LEAST_BEYOND = 2;
/** Grows from its tops to its feet at half the limit. */
const FOOT_SHARE = 0.5;

export interface HairFound {
  readonly removed: Uint8Array;
  readonly tufts: number;
  readonly highestMm: number;
  /** Patches that stand off but are too wide for hair. */
  readonly wide: number;
}

/**
 * Small patches that stand off a robustly smoothed surface. `outward` is +1 when the winding faces out of the horse, -1
 * when it faces in. Our own rule, no source.
 */
export function findHair(mesh: TriangleMesh, rules: HairRules, outward: 1 | -1): HairFound {
  const near = findNeighbours(mesh);
  const heightMm = heightsOverSmoothed(mesh, near, outward);
  const sigma = robustSigma(heightMm.filter((value) => !Number.isNaN(value)));
  const limit = Math.max(rules.standsOffMm, 3 * sigma);
  const removed = new Uint8Array(heightMm.length);
  const seen = new Uint8Array(heightMm.length);
  let tufts = 0;
  let wide = 0;
  let highestMm = 0;
  for (let v = 0; v < seen.length; v++) {
    if (seen[v] === 1 || !(heightMm[v] > limit)) continue;
    const patch = grow(v, near, seen, (w) => heightMm[w] > Math.max(FOOT_SHARE * limit, 2 * sigma));
    const beyond = patch.filter((w) => heightMm[w] > limit).length;
    if (patch.length < LEAST_VERTICES || beyond < LEAST_BEYOND) continue;
    if (widthOf(mesh.positions, patch) > rules.widestMm) {
      wide++;
      continue;
    }
    tufts++;
    for (const w of patch) {
      removed[w] = 1;
      highestMm = Math.max(highestMm, heightMm[w]);
    }
  }
  return { removed, tufts, highestMm, wide };
}

function grow(from: number, { start, list }: Neighbours, seen: Uint8Array, belongs: (v: number) => boolean): number[] {
  const patch = [from];
  seen[from] = 1;
  for (let i = 0; i < patch.length; i++) {
    for (let k = start[patch[i]]; k < start[patch[i] + 1]; k++) {
      const w = list[k];
      if (seen[w] === 1 || !belongs(w)) continue;
      seen[w] = 1;
      patch.push(w);
    }
  }
  return patch;
}

function widthOf(p: Float64Array, patch: readonly number[]): number {
  let square = 0;
  for (let k = 0; k < 3; k++) {
    const values = patch.map((v) => p[3 * v + k]);
    square += (values.reduce((a, b) => Math.max(a, b)) - values.reduce((a, b) => Math.min(a, b))) ** 2;
  }
  return Math.sqrt(square);
}

/** Height of each vertex over the fit of its cell, outward, mm; NaN where there is too little around. */
function heightsOverSmoothed(mesh: TriangleMesh, near: Neighbours, outward: 1 | -1): Float64Array {
  const { cellOf, points, normals, count } = gatherCells(mesh, near);
  const around = neighbourCells(points, count);
  const fit = createQuadraticFit();
  const frames = new Float64Array(12 * count);
  const terms = new Float64Array(6 * count).fill(Number.NaN);
  for (let c = 0; c < count; c++) {
    const frame = frames.subarray(12 * c, 12 * c + 12);
    frameAt(frame, points, 3 * c, normals, 3 * c);
    const others = around(c).filter((d) => facesAlike(normals, c, d));
    const found = others.length < 12 ? null : robustFit(fit, frame, points, others);
    if (found !== null) terms.set(found, 6 * c);
  }
  const place = new Float64Array(3);
  const heightMm = new Float64Array(cellOf.length).fill(Number.NaN);
  for (let v = 0; v < cellOf.length; v++) {
    const c = cellOf[v];
    if (c < 0) continue;
    intoLocal(frames.subarray(12 * c, 12 * c + 12), mesh.positions, 3 * v, place);
    heightMm[v] = outward * (place[2] - valueAt(terms, 6 * c, place[0], place[1]));
  }
  return heightMm;
}

const valueAt = (t: Float64Array, at: number, u: number, v: number): number =>
  t[at] + t[at + 1] * u + t[at + 2] * v + t[at + 3] * u * u + t[at + 4] * u * v + t[at + 5] * v * v;

const facesAlike = (n: Float64Array, a: number, b: number): boolean =>
  n[3 * a] * n[3 * b] + n[3 * a + 1] * n[3 * b + 1] + n[3 * a + 2] * n[3 * b + 2] > 0.3;

/** Iteratively reweighted least squares with Tukey's weights. */
function robustFit(
  fit: ReturnType<typeof createQuadraticFit>,
  frame: Float64Array,
  points: Float64Array,
  others: readonly number[],
): Float64Array | null {
  const local = new Float64Array(3 * others.length);
  for (const [i, d] of others.entries()) intoLocal(frame, points, 3 * d, local.subarray(3 * i, 3 * i + 3));
  const off = new Float64Array(others.length);
  let terms: Float64Array | null = null;
  for (let round = 0; round <= REWEIGHTS; round++) {
    const limit = TUKEY * Math.max(LEAST_SIGMA_MM, robustSigma(off));
    fit.clear();
    for (let i = 0; i < off.length; i++) {
      const t = off[i] / limit;
      const weight = round === 0 ? 1 : Math.abs(t) < 1 ? (1 - t * t) ** 2 : 0;
      if (weight > 0) fit.add(local[3 * i], local[3 * i + 1], local[3 * i + 2], weight);
    }
    const solved = fit.solve();
    if (solved === null) return terms;
    terms = Float64Array.from(solved);
    for (let i = 0; i < off.length; i++) off[i] = local[3 * i + 2] - valueAt(terms, 0, local[3 * i], local[3 * i + 1]);
  }
  return terms;
}

/** Vertices gathered in cubes, so that a fine scan costs no more than a coarse one: mean place and normal of each. */
function gatherCells({ positions: p }: TriangleMesh, { normals: n, start }: Neighbours) {
  const cells = new Map<string, number>();
  const cellOf = new Int32Array(p.length / 3).fill(-1);
  const sums: number[] = [];
  for (let v = 0; v < cellOf.length; v++) {
    if (start[v + 1] === start[v]) continue;
    const key = `${Math.floor(p[3 * v] / CELL_MM)},${Math.floor(p[3 * v + 1] / CELL_MM)},${Math.floor(p[3 * v + 2] / CELL_MM)}`;
    let cell = cells.get(key);
    if (cell === undefined) {
      cell = cells.size;
      cells.set(key, cell);
      sums.push(0, 0, 0, 0, 0, 0, 0);
    }
    cellOf[v] = cell;
    for (let k = 0; k < 3; k++) {
      sums[7 * cell + k] += p[3 * v + k];
      sums[7 * cell + 3 + k] += n[3 * v + k];
    }
    sums[7 * cell + 6]++;
  }
  const count = cells.size;
  const points = new Float64Array(3 * count);
  const normals = new Float64Array(3 * count);
  for (let c = 0; c < count; c++) {
    const length = Math.hypot(sums[7 * c + 3], sums[7 * c + 4], sums[7 * c + 5]);
    for (let k = 0; k < 3; k++) {
      points[3 * c + k] = sums[7 * c + k] / sums[7 * c + 6];
      normals[3 * c + k] = length > 0 ? sums[7 * c + 3 + k] / length : k === 2 ? 1 : 0;
    }
  }
  return { cellOf, points, normals, count };
}

/** Cells within the radius of a cell, through cubes as wide as the radius. */
function neighbourCells(points: Float64Array, count: number): (cell: number) => number[] {
  const cubes = new Map<string, number[]>();
  const cube = (c: number, k: number): number => Math.floor(points[3 * c + k] / RADIUS_MM);
  for (let c = 0; c < count; c++) {
    const key = `${cube(c, 0)},${cube(c, 1)},${cube(c, 2)}`;
    const held = cubes.get(key);
    if (held === undefined) cubes.set(key, [c]);
    else held.push(c);
  }
  return (cell) => {
    const found: number[] = [];
    for (let n = 0; n < 27; n++) {
      const key = `${cube(cell, 0) + (n % 3) - 1},${cube(cell, 1) + (Math.floor(n / 3) % 3) - 1},${cube(cell, 2) + Math.floor(n / 9) - 1}`;
      for (const d of cubes.get(key) ?? []) {
        const dx = points[3 * cell] - points[3 * d];
        const dy = points[3 * cell + 1] - points[3 * d + 1];
        const dz = points[3 * cell + 2] - points[3 * d + 2];
        if (dx * dx + dy * dy + dz * dz < RADIUS_MM * RADIUS_MM) found.push(d);
      }
    }
    return found;
  };
}
