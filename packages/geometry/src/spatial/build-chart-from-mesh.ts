import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { type Chart, chartLattice, createChart } from './chart.ts';
import { chooseSmoothingMm, heightNoiseMm, medianEdgeMm } from './choose-smoothing.ts';
import type { Side } from './distance-field.ts';
import { rasteriseSheet } from './rasterise-sheet.ts';
import { smoothGrid } from './smooth-grid.ts';

export interface MeshChartOptions {
  /** Range of x to cover, mm. Default: the mesh's. */
  readonly uRangeMm?: readonly [number, number];
  /** Range of v to cover, mm. Default: the mesh's on this chart's side, and 80 mm beyond the midplane. */
  readonly vRangeMm?: readonly [number, number];
  /** Spacing of the spline's nodes, mm. Default 2. */
  readonly cellMm?: number;
  /** Raster nodes per cell before smoothing. Default 2. */
  readonly finePerCell?: number;
  /** Standard deviation of the smoothing, mm. Default: chosen from edge length and noise, see chooseSmoothingMm. */
  readonly smoothingMm?: number;
}

export const MESH_CHART_DEFAULTS = Object.freeze({ cellMm: 2, finePerCell: 2, beyondMidplaneMm: 80 });

/** Largest raster, nodes: a scan in a wrong unit must not ask for all memory. */
const NODE_LIMIT = 2 ** 25;

/**
 * A chart of one side of a mesh in the horse frame (mm): triangles to a fine raster, upper sheet first; smoothing over
 * data only; every `finePerCell`-th node into the spline. Holes stay holes. Folds are given up and counted.
 * Throws RangeError when the ranges ask for more than 2^25 raster nodes.
 */
export function buildChartFromMesh(
  mesh: TriangleMesh,
  side: Side,
  tiltRad: number,
  options: MeshChartOptions = {},
): Chart {
  const cellMm = options.cellMm ?? MESH_CHART_DEFAULTS.cellMm;
  const perCell = options.finePerCell ?? MESH_CHART_DEFAULTS.finePerCell;
  const c = Math.cos(tiltRad);
  const s = side === 'right' ? Math.sin(tiltRad) : -Math.sin(tiltRad);
  const { uRangeMm, vRangeMm } = options;
  const extent =
    uRangeMm === undefined || vRangeMm === undefined ? meshExtent(mesh, side, c, s) : { u: uRangeMm, v: vRangeMm };
  const lattice = chartLattice(uRangeMm ?? extent.u, vRangeMm ?? extent.v, cellMm);
  const nu = (lattice.nu - 1) * perCell + 1;
  const nv = (lattice.nv - 1) * perCell + 1;
  if (!(nu > 0 && nv > 0 && nu * nv <= NODE_LIMIT)) {
    throw new RangeError(`expected a chart of at most ${NODE_LIMIT} raster nodes, got ${nu} x ${nv}`);
  }
  const fine = { ...lattice, cellMm: cellMm / perCell, nu, nv };
  const { heights, folded } = rasteriseSheet(mesh, c, s, fine);
  const { mask, foldedFraction } = maskOf(heights, folded);
  const chosen = (): number => {
    const edgeMm = medianEdgeMm(mesh);
    const noiseStep = Math.max(perCell, Math.round(edgeMm / fine.cellMm));
    return chooseSmoothingMm(edgeMm, heightNoiseMm(heights, mask, nv, noiseStep));
  };
  const smoothingMm = options.smoothingMm ?? chosen();
  const coarse = smoothGrid(heights, mask, nu, nv, smoothingMm / fine.cellMm, perCell);
  return createChart({
    side,
    tiltRad,
    ...lattice,
    heightsMm: coarse.heights,
    mask: coarse.mask,
    smoothingMm,
    foldedFraction,
  });
}

function maskOf(heights: Float64Array, folded: Uint8Array): { mask: Uint8Array; foldedFraction: number } {
  const mask = new Uint8Array(heights.length);
  let covered = 0;
  let lost = 0;
  for (let k = 0; k < heights.length; k++) {
    if (heights[k] === Number.NEGATIVE_INFINITY) continue;
    covered++;
    if (folded[k] === 1) lost++;
    else mask[k] = 1;
  }
  return { mask, foldedFraction: covered === 0 ? 0 : lost / covered };
}

function meshExtent(
  mesh: TriangleMesh,
  side: Side,
  c: number,
  s: number,
): { u: readonly [number, number]; v: readonly [number, number] } {
  let uLow = Number.POSITIVE_INFINITY;
  let uHigh = Number.NEGATIVE_INFINITY;
  let vLow = Number.POSITIVE_INFINITY;
  let vHigh = Number.NEGATIVE_INFINITY;
  const outward = side === 'right' ? 1 : -1;
  const beyond = -MESH_CHART_DEFAULTS.beyondMidplaneMm;
  const p = mesh.positions;
  for (let k = 0; k < p.length; k += 3) {
    if (outward * p[k + 1] < beyond) continue;
    const along = p[k];
    const across = c * p[k + 1] - s * p[k + 2];
    if (along < uLow) uLow = along;
    if (along > uHigh) uHigh = along;
    if (across < vLow) vLow = across;
    if (across > vHigh) vHigh = across;
  }
  return uLow <= uHigh ? { u: [uLow, uHigh], v: [vLow, vHigh] } : { u: [0, 0], v: [0, 0] };
}
