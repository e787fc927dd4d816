import { InputError } from '../numeric/index.ts';
import { fillSmallHoles } from './mesh-from-points-holes.ts';
import { netTriangles } from './mesh-from-points-net.ts';
import { projectPoints } from './mesh-from-points-project.ts';
import { emptySunkenCells } from './mesh-from-points-sunken.ts';
import { thinToCells } from './mesh-from-points-thin.ts';
import type { TriangleMesh } from './triangle-mesh.ts';

export interface MeshFromPointsOptions {
  /** The direction that is up in the points' own axes, any length but zero. */
  readonly up: readonly [number, number, number];
  /** Side of a cell, in the points' own unit; when absent twice the mean spacing of the upper points, about four a cell. */
  readonly spacing?: number;
  /** Holes up to this many cells across are bridged, larger ones stay open. Default 3. */
  readonly holeCells?: number;
}

export interface MeshFromPoints {
  /** Counter-clockwise seen from above, in the points' own axes and unit. */
  readonly mesh: TriangleMesh;
  /** Side of a cell, in the points' unit. */
  readonly spacing: number;
  readonly pointsUsed: number;
  /** Points below an upper surface: legs, floor, underside. */
  readonly pointsBelow: number;
  /** Vertices that stand for bridged holes, not for points. */
  readonly bridged: number;
  /** Median distance of the points used from their cell's plane: scatter of the scan and curvature within a cell. */
  readonly scatter: number;
}

const HOLE_CELLS = 3;
const BELOW_SHARE = 0.05;

/**
 * A surface seen from above through a cloud of points: the points are sorted into square cells across the up direction, each cell's
 * upper layer becomes one vertex (at the points' mean place, as high as the plane fitted to the cell and its eight neighbours plus
 * the median residual), and neighbouring filled cells are joined as a net. A net and not a Delaunay triangulation: cells are already
 * regular, so nothing is gained by one, and no near-collinear case can break it. Time grows with the number of points.
 * Overhangs can't be kept: one height over each place. Common practice for terrain, no source.
 * @throws InputError empty (fewer than three points or cells), degenerate (all in a line), out-of-range, not-a-number, inconsistent
 * (stray points far away from the others).
 */
export function meshFromPoints(positions: Float64Array, options: MeshFromPointsOptions): MeshFromPoints {
  const holeCells = options.holeCells ?? HOLE_CELLS;
  if (!(holeCells >= 0 && holeCells <= 50)) throw wrong('holeCells', holeCells, 'a number of cells from 0 to 50');
  let projected = projectPoints(positions, options.up, options.spacing);
  let cells = thinToCells(projected);
  if (options.spacing === undefined && cells.below > BELOW_SHARE * (cells.used + cells.below)) {
    // The mean spacing counted what lies underneath as well: cells that fit the upper surface alone are wider.
    const wider = cells.side * Math.sqrt((cells.used + cells.below) / cells.used);
    projected = projectPoints(positions, options.up, wider);
    cells = thinToCells(projected);
  }
  const sunken = emptySunkenCells(cells);
  const bridged = fillSmallHoles(cells, Math.floor(holeCells));
  const { positions: flat, triangles } = netTriangles(cells);
  if (triangles.length === 0) {
    throw new InputError({
      code: 'degenerate',
      field: 'points',
      got: `${cells.filled} cells, none with two neighbours`,
      expected: 'points that cover an area, seen along the up direction',
      remedy: 'Check the up direction, or give a larger spacing.',
    });
  }
  const mesh = { positions: projected.unproject(flat), triangles };
  const { used, below, scatter } = cells;
  return { mesh, spacing: cells.side, pointsUsed: used - sunken, pointsBelow: below + sunken, bridged, scatter };
}

function wrong(field: string, got: number, expected: string): InputError {
  return new InputError({ code: 'out-of-range', field, got: String(got), expected, remedy: 'Give another value.' });
}
