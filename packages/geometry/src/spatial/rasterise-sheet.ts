import type { TriangleMesh } from '../surface/triangle-mesh.ts';

/** A regular grid in the plane of a chart. */
export interface RasterGrid {
  readonly u0Mm: number;
  readonly v0Mm: number;
  readonly cellMm: number;
  readonly nu: number;
  readonly nv: number;
}

export interface Raster {
  /** nu x nv highest w over each node, row-major; -Infinity where nothing lies over it. */
  readonly heights: Float64Array;
  /** 1 where the surface folds near its top: a second sheet, or one that faces away from w or runs along it. */
  readonly folded: Uint8Array;
}

/** Sheets nearer to each other than this over one node are one sheet met twice (shared edges, duplicated triangles). */
const ONE_SHEET_MM = 0.5;
/** Sheets further below the top than this are another part of the body, out of reach of any bar. */
const FOLD_REACH_MM = 100;
/** A face counts as folded when it is steeper than 75 degrees against the chart: normal . w below cos 75. */
const FOLD_COSINE = Math.cos((75 * Math.PI) / 180);
/** Edges count as inside, with this much of the triangle to spare, so that no pinhole opens between neighbours. */
const EDGE_SLACK = 1e-9;

/**
 * Scan-converts the triangles of a mesh onto a grid tilted about x; the upper sheet wins. Nothing is filled: a node over
 * no triangle stays empty.
 *
 * `c`, `s` are the chart's cosTilt and signed sinTilt: v = c y - s z, w = s y + c z.
 */
export function rasteriseSheet(mesh: TriangleMesh, c: number, s: number, grid: RasterGrid): Raster {
  const { positions: p, triangles } = mesh;
  const { u0Mm, v0Mm, nu, nv } = grid;
  const heights = new Float64Array(nu * nv).fill(Number.NEGATIVE_INFINITY);
  const folds = new Folds(heights);
  const perCell = 1 / grid.cellMm;
  const steps = halfSteps(p, c, s, grid);
  for (let t = 0; t < triangles.length; t += 3) {
    const a = triangles[t];
    const b = triangles[t + 1];
    const d = triangles[t + 2];
    // Most triangles of a fine scan lie between the nodes: they go before anything else is looked at.
    const jFrom = Math.max(0, (Math.min(steps[2 * a + 1], steps[2 * b + 1], steps[2 * d + 1]) + 1) >> 1);
    const jEnd = Math.min(nv - 1, Math.max(steps[2 * a + 1], steps[2 * b + 1], steps[2 * d + 1]) >> 1);
    if (jFrom > jEnd) continue;
    const iFrom = Math.max(0, (Math.min(steps[2 * a], steps[2 * b], steps[2 * d]) + 1) >> 1);
    const iEnd = Math.min(nu - 1, Math.max(steps[2 * a], steps[2 * b], steps[2 * d]) >> 1);
    if (iFrom > iEnd) continue;
    // Corners in grid steps along u and v, and w in mm; b and d from a.
    const ay = p[3 * a + 1];
    const az = p[3 * a + 2];
    const by = p[3 * b + 1];
    const bz = p[3 * b + 2];
    const dy = p[3 * d + 1];
    const dz = p[3 * d + 2];
    const au = (p[3 * a] - u0Mm) * perCell;
    const av = (c * ay - s * az - v0Mm) * perCell;
    const bu = (p[3 * b] - u0Mm) * perCell - au;
    const bv = (c * by - s * bz - v0Mm) * perCell - av;
    const du = (p[3 * d] - u0Mm) * perCell - au;
    const dv = (c * dy - s * dz - v0Mm) * perCell - av;
    const area = bu * dv - bv * du;
    if (!(area !== 0)) continue;
    const aw = s * ay + c * az;
    const bw = s * by + c * bz - aw;
    const dw = s * dy + c * dz - aw;
    const perArea = 1 / area;
    const wu = (bw * dv - dw * bv) * perArea;
    const wv = (bu * dw - du * bw) * perArea;
    // Slope in mm per mm; the normal's part along w is 1 / sqrt(1 + slope^2).
    const slope2 = (wu * wu + wv * wv) * perCell * perCell;
    const turned = area < 0 || FOLD_COSINE * FOLD_COSINE * (1 + slope2) > 1;
    for (let i = iFrom; i <= iEnd; i++) {
      const x = i - au;
      for (let j = jFrom; j <= jEnd; j++) {
        const y = j - av;
        const beta = (x * dv - y * du) * perArea;
        const gamma = (bu * y - bv * x) * perArea;
        if (beta < -EDGE_SLACK || gamma < -EDGE_SLACK || beta + gamma > 1 + EDGE_SLACK) continue;
        const k = i * nv + j;
        const w = aw + wu * x + wv * y;
        const top = heights[k];
        if (turned) folds.turnedAway(k, w);
        if (w > top + ONE_SHEET_MM) folds.sheetBelow(k, top);
        else if (w < top - ONE_SHEET_MM) folds.sheetBelow(k, w);
        if (w > top) heights[k] = w;
      }
    }
  }
  return { heights, folded: folds.found() };
}

/**
 * Where each vertex stands along u and v in half steps of the grid: 2 j on node j, 2 j + 1 between it and the next. The
 * nodes under a triangle are told from its corners' alone.
 */
function halfSteps(p: Float64Array, c: number, s: number, { u0Mm, v0Mm, cellMm, nu, nv }: RasterGrid): Int32Array {
  const steps = new Int32Array((2 * p.length) / 3);
  const perCell = 1 / cellMm;
  for (let k = 0, at = 0; k < p.length; k += 3, at += 2) {
    steps[at] = halfStep((p[k] - u0Mm) * perCell, nu);
    steps[at + 1] = halfStep((c * p[k + 1] - s * p[k + 2] - v0Mm) * perCell, nv);
  }
  return steps;
}

function halfStep(value: number, nodes: number): number {
  if (value < -1) return -2;
  if (value > nodes) return 2 * nodes;
  return Math.floor(value + EDGE_SLACK) + Math.ceil(value - EDGE_SLACK);
}

/** Sheets under the top one and faces turned away, node by node; a plain back has none and takes no memory for them. */
class Folds {
  readonly #heights: Float64Array;
  /** Highest of the lower sheets, and of the faces turned away. */
  #below: Float64Array | null = null;

  constructor(heights: Float64Array) {
    this.#heights = heights;
  }

  turnedAway(k: number, w: number): void {
    this.#below ??= new Float64Array(this.#heights.length).fill(Number.NEGATIVE_INFINITY);
    if (w > this.#below[k]) this.#below[k] = w;
  }

  sheetBelow(k: number, w: number): void {
    if (w > Number.NEGATIVE_INFINITY) this.turnedAway(k, w);
  }

  /** 1 where one of them is near the top. */
  found(): Uint8Array {
    const folded = new Uint8Array(this.#heights.length);
    const below = this.#below;
    if (below === null) return folded;
    for (let k = 0; k < folded.length; k++) if (below[k] > this.#heights[k] - FOLD_REACH_MM) folded[k] = 1;
    return folded;
  }
}
