import { InputError } from '../numeric/index.ts';
import { fillSmallHoles } from './mesh-from-points-holes.ts';
import { netTriangles } from './mesh-from-points-net.ts';
import { type ProjectedPoints, projectPoints } from './mesh-from-points-project.ts';
import { emptySunkenCells } from './mesh-from-points-sunken.ts';
import { type Cells, thinToCells } from './mesh-from-points-thin.ts';
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
  const { projected, cells } = seenAlong(positions, options);
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

/**
 * How smooth a sheet the points make, seen along a direction: the figures of meshFromPoints without its mesh, in half the time.
 * null where no three cells of a square are filled.
 * @throws InputError as meshFromPoints, but for cells in a line
 */
export function scatterAlong(
  positions: Float64Array,
  up: readonly [number, number, number],
): Pick<MeshFromPoints, 'scatter' | 'spacing'> | null {
  const { cells } = seenAlong(positions, { up });
  return coversAnArea(cells) ? { scatter: cells.scatter, spacing: cells.side } : null;
}

/** The upper points by cells; cells that fit the upper surface where their side was not given. */
function seenAlong(
  positions: Float64Array,
  { up, spacing }: MeshFromPointsOptions,
): { projected: ProjectedPoints; cells: Cells } {
  const projected = projectPoints(positions, up, spacing);
  const cells = thinToCells(projected);
  const { used, below } = cells;
  if (spacing !== undefined || below <= BELOW_SHARE * (used + below)) return { projected, cells };
  // The mean spacing counted what lies underneath as well: cells that fit the upper surface alone are wider.
  const wider = projectPoints(positions, up, cells.side * Math.sqrt((used + below) / used));
  return { projected: wider, cells: thinToCells(wider) };
}

function coversAnArea({ columns, rows, vertices }: Cells): boolean {
  const has = (cell: number): number => (Number.isNaN(vertices[3 * cell]!) ? 0 : 1);
  for (let row = 0; row + 1 < rows; row++)
    for (let cell = row * columns; cell + 1 < (row + 1) * columns; cell++)
      if (has(cell) + has(cell + 1) + has(cell + columns) + has(cell + columns + 1) >= 3) return true;
  return false;
}

function wrong(field: string, got: number, expected: string): InputError {
  return new InputError({ code: 'out-of-range', field, got: String(got), expected, remedy: 'Give another value.' });
}
