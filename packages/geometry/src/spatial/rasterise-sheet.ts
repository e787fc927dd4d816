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
  const { nu, nv } = grid;
  const heights = new Float64Array(nu * nv).fill(Number.NEGATIVE_INFINITY);
  // Highest of the lower sheets, and of the faces turned away.
  const below = heights.slice();
  const away = heights.slice();
  const perCell = 1 / grid.cellMm;
  // Vertices in grid steps along u and v, and w in mm.
  const ring = new Float64Array(p.length);
  for (let k = 0; k < p.length; k += 3) {
    ring[k] = (p[k] - grid.u0Mm) * perCell;
    ring[k + 1] = (c * p[k + 1] - s * p[k + 2] - grid.v0Mm) * perCell;
    ring[k + 2] = s * p[k + 1] + c * p[k + 2];
  }
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const d = 3 * triangles[t + 2];
    const au = ring[a];
    const av = ring[a + 1];
    const aw = ring[a + 2];
    const bu = ring[b] - au;
    const bv = ring[b + 1] - av;
    const bw = ring[b + 2] - aw;
    const du = ring[d] - au;
    const dv = ring[d + 1] - av;
    const dw = ring[d + 2] - aw;
    const area = bu * dv - bv * du;
    if (!(area !== 0)) continue;
    const iEnd = Math.min(nu - 1, Math.floor(au + Math.max(0, bu, du) + EDGE_SLACK));
    const jEnd = Math.min(nv - 1, Math.floor(av + Math.max(0, bv, dv) + EDGE_SLACK));
    const iFrom = Math.max(0, Math.ceil(au + Math.min(0, bu, du) - EDGE_SLACK));
    const jFrom = Math.max(0, Math.ceil(av + Math.min(0, bv, dv) - EDGE_SLACK));
    if (iFrom > iEnd || jFrom > jEnd) continue;
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
        if (turned && w > away[k]) away[k] = w;
        if (w > top + ONE_SHEET_MM && top > below[k]) below[k] = top;
        if (w < top - ONE_SHEET_MM && w > below[k]) below[k] = w;
        if (w > top) heights[k] = w;
      }
    }
  }
  return { heights, folded: foldsOf(heights, below, away) };
}

function foldsOf(heights: Float64Array, below: Float64Array, away: Float64Array): Uint8Array {
  const folded = new Uint8Array(heights.length);
  for (let k = 0; k < heights.length; k++) {
    if (Math.max(below[k], away[k]) > heights[k] - FOLD_REACH_MM) folded[k] = 1;
  }
  return folded;
}
