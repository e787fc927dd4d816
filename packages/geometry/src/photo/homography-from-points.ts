import { InputError, symmetricEigen } from '../numeric/index.ts';
import { checkCorrespondences } from './check-correspondences.ts';
import { adjugate3, type Matrix3, multiply3, through } from './matrix3.ts';

type Point = readonly [number, number];

/** The map between a photo and the plane of a paper. Plain numbers: it may be copied between workers. */
export interface Homography {
  /** Row-major 3 x 3: pixels to mm. */
  readonly imageToPaper: Matrix3;
  /** Row-major 3 x 3: mm to pixels. */
  readonly paperToImage: Matrix3;
  /** Distance in the photo between each given point and where the map puts it, px. */
  readonly residualsPx: readonly number[];
  /** The same on the paper, mm. */
  readonly residualsMm: readonly number[];
  /** Smallest singular value that counts over the largest, in normalised coordinates: 0 where the points fix no plane. */
  readonly condition: number;
  /** 9 x 9 covariance of paperToImage for points that are wrong by 1 px (one standard deviation, each way). */
  readonly covariance: readonly number[];
}

/** Below this the points fix no plane: a fiftieth of what four corners of a sheet at 60 degrees give. */
const LEAST_CONDITION = 1e-3;
const ROUNDS = 12;

/**
 * Homography through four points or, for more, with the least sum of squared distances in the photo. Start: the
 * normalised direct linear transform (Hartley & Zisserman, Multiple View Geometry, algorithm 4.2, from memory); then
 * Gauss-Newton steps.
 * @param image px, see PixelPoint @param paper mm, in the same order
 * @throws InputError as checkCorrespondences; 'degenerate' where more points fix no plane either
 */
export function homographyFromPoints(image: readonly Point[], paper: readonly Point[]): Homography {
  checkCorrespondences(image, paper);
  const [toImage, toPaper] = [normalising(image), normalising(paper)];
  const from = paper.map((p) => through(toPaper, p));
  const to = image.map((p) => through(toImage, p));
  const start = directLinear(from, to);
  if (!(start.condition > LEAST_CONDITION)) throw noPlane();
  let g = start.g;
  let normal = normalEquations(g, from, to);
  if (image.length > 4) {
    for (let round = 0; round < ROUNDS; round++) {
      const step = solve(normal.matrix, normal.gradient);
      const next = g.map((value, i) => (i < 8 ? value + step[i]! : value));
      const there = normalEquations(next, from, to);
      if (!(there.cost < normal.cost)) break;
      g = next;
      normal = there;
    }
  }
  if (!from.every((p) => g[6]! * p[0] + g[7]! * p[1] + 1 > 0.02)) throw noPlane();
  const imageBack = adjugate3(toImage);
  const scaled = (m: Matrix3): number[] => multiply3(multiply3(imageBack, m), toPaper);
  const paperToImage = scaled(g);
  const imageToPaper = adjugate3(paperToImage);
  const residual = (m: Matrix3, a: readonly Point[], b: readonly Point[]): number[] =>
    a.map((p, i) => {
      const [x, y] = through(m, p);
      return Math.hypot(x - b[i]![0], y - b[i]![1]);
    });
  return {
    imageToPaper,
    paperToImage,
    residualsPx: residual(paperToImage, paper, image),
    residualsMm: residual(imageToPaper, image, paper),
    condition: start.condition,
    covariance: covarianceOf(normal.matrix, toImage[0]!, scaled),
  };
}

function noPlane(): InputError {
  return new InputError({
    code: 'degenerate',
    field: 'corners',
    got: 'points that lie in a line or contradict each other',
    expected: 'points that fix the plane of the paper',
    remedy: 'Use the four corners of the sheet, and photograph it less from the side',
  });
}

/** Moves the points' centroid to the origin and scales their mean distance from it to the square root of 2. */
function normalising(points: readonly Point[]): number[] {
  const n = points.length;
  const cx = points.reduce((sum, p) => sum + p[0], 0) / n;
  const cy = points.reduce((sum, p) => sum + p[1], 0) / n;
  const mean = points.reduce((sum, p) => sum + Math.hypot(p[0] - cx, p[1] - cy), 0) / n;
  if (!(mean > 0)) throw noPlane();
  const s = Math.SQRT2 / mean;
  return [s, 0, -s * cx, 0, s, -s * cy, 0, 0, 1];
}

function directLinear(from: readonly Point[], to: readonly Point[]): { g: number[]; condition: number } {
  const ata = new Array<number>(81).fill(0);
  for (const [i, [x, y]] of from.entries()) {
    const [u, v] = to[i]!;
    addOuter(ata, [x, y, 1, 0, 0, 0, -u * x, -u * y, -u], 9);
    addOuter(ata, [0, 0, 0, x, y, 1, -v * x, -v * y, -v], 9);
  }
  const { values, vectors } = symmetricEigen(ata, 9);
  const h = vectors[0]!;
  const isAway = Math.abs(h[8]!) > 1e-9;
  return {
    g: h.map((value) => value / (isAway ? h[8]! : 1)),
    condition: isAway ? Math.sqrt(Math.max(0, values[1]!) / values[8]!) : 0,
  };
}

function addOuter(matrix: number[], row: readonly number[], n: number): void {
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) matrix[n * i + j]! += row[i]! * row[j]!;
}

/** J^T J and J^T r of the distances in the photo for the eight entries of g, the ninth held at 1. */
function normalEquations(g: readonly number[], from: readonly Point[], to: readonly Point[]) {
  const matrix = new Array<number>(64).fill(0);
  const gradient = new Array<number>(8).fill(0);
  let cost = 0;
  for (const [i, [x, y]] of from.entries()) {
    const w = g[6]! * x + g[7]! * y + 1;
    const [u, v] = through(g, [x, y]);
    const rows = [
      { row: [x / w, y / w, 1 / w, 0, 0, 0, (-u * x) / w, (-u * y) / w], miss: to[i]![0] - u },
      { row: [0, 0, 0, x / w, y / w, 1 / w, (-v * x) / w, (-v * y) / w], miss: to[i]![1] - v },
    ];
    for (const { row, miss } of rows) {
      addOuter(matrix, row, 8);
      for (let k = 0; k < 8; k++) gradient[k]! += row[k]! * miss;
      cost += miss * miss;
    }
  }
  return { matrix, gradient, cost };
}

function solve(matrix: readonly number[], right: readonly number[]): number[] {
  const { values, vectors } = symmetricEigen(matrix, 8);
  const out = new Array<number>(8).fill(0);
  for (const [k, vector] of vectors.entries()) {
    if (!(values[k]! > 1e-14 * values[7]!)) continue;
    const along = vector.reduce((sum, value, i) => sum + value * right[i]!, 0) / values[k]!;
    for (let i = 0; i < 8; i++) out[i]! += along * vector[i]!;
  }
  return out;
}

/** Inverse of J^T J carried to the entries in px and mm, for 1 px: `scale` normalised units are a pixel. */
function covarianceOf(matrix: readonly number[], scale: number, carry: (m: Matrix3) => number[]): number[] {
  const { values, vectors } = symmetricEigen(matrix, 8);
  const out = new Array<number>(81).fill(0);
  for (const [k, vector] of vectors.entries()) {
    const length = scale / Math.sqrt(Math.max(values[k]!, 1e-14 * values[7]!));
    addOuter(
      out,
      carry([...vector, 0]).map((value) => value * length),
      9,
    );
  }
  return out;
}
