import { createHeightJet, treeLengthMm, undersidePoint } from '../bar/index.ts';
import { transformPoint } from '../numeric/index.ts';
import { barToHorse, type SeatedTree } from '../seating/index.ts';
import type { Side } from '../spatial/index.ts';

/** What the map shows at each place of a bar. */
export type MapQuantity = 'clearance' | 'pressure';

/**
 * One underside laid flat, as a grid of nodes: the cells' middles and one ring of nodes on the outline itself.
 * Row-major from the front tip, inner edge to outer.
 */
export interface MapGrid {
  readonly side: Side;
  readonly rows: number;
  readonly columns: number;
  /** Distance from the midline of the drawing, outward, mm: the inner edge at half its spread, then along the section. */
  readonly acrossMm: Float64Array;
  /** Distance from the front tip edge, mm. */
  readonly alongMm: Float64Array;
  /** mm or kPa; NaN without data. */
  readonly values: Float64Array;
}

/** The grid of one bar of a settled tree. */
export function createMapGrid(seated: SeatedTree, side: Side, quantity: MapQuantity): MapGrid {
  const { samples } = seated;
  const rows = samples.rows + 2;
  const columns = samples.columns + 2;
  const grid: MapGrid = {
    side,
    rows,
    columns,
    acrossMm: new Float64Array(rows * columns),
    alongMm: new Float64Array(rows * columns),
    values: new Float64Array(rows * columns),
  };
  placeNodes(seated, grid);
  fillValues(seated, grid, quantity);
  return grid;
}

/** Middles of `count` equal parts of 0..1, with both ends. */
function middlesWithEnds(count: number, i: number): number {
  return i === 0 ? 0 : i === count + 1 ? 1 : (i - 0.5) / count;
}

function placeNodes({ tree, samples }: SeatedTree, { side, rows, columns, acrossMm, alongMm }: MapGrid): void {
  const bar = tree[side];
  const jet = createHeightJet();
  const length = treeLengthMm(tree);
  for (let i = 0; i < rows; i++) {
    const b = length * middlesWithEnds(samples.rows, i);
    const row = bar.row(b);
    let across = 0;
    let lastY = 0;
    let lastZ = 0;
    for (let j = 0; j < columns; j++) {
      const t = -1 + 2 * middlesWithEnds(samples.columns, j);
      const y = row.middleY[0] + t * row.outlineHalfWidthY;
      const { z } = bar.heightJet(row, y, jet);
      across = j === 0 ? y : across + Math.hypot(y - lastY, z - lastZ);
      lastY = y;
      lastZ = z;
      acrossMm[i * columns + j] = across;
      alongMm[i * columns + j] = b;
    }
  }
}

function fillValues(seated: SeatedTree, grid: MapGrid, quantity: MapQuantity): void {
  const { samples, seat, stack } = seated;
  const { from } = samples.bars[grid.side === 'left' ? 0 : 1];
  const at = (cell: number): number => {
    if (seat.mask[cell] === 0) return Number.NaN;
    return quantity === 'pressure' ? 1000 * seat.pressureMPa[cell]! : seat.rows.distanceMm[cell]! - stack.thicknessMm;
  };
  const { rows, columns, values } = grid;
  for (let i = 1; i < rows - 1; i++) {
    for (let j = 1; j < columns - 1; j++) {
      values[i * columns + j] = at(from + (i - 1) * samples.columns + (j - 1));
    }
  }
  const least = quantity === 'pressure' ? 0 : Number.NEGATIVE_INFINITY;
  for (let i = 1; i < rows - 1; i++) {
    extend(values, i * columns, 1, least);
    extend(values, i * columns + columns - 1, -1, least);
  }
  for (let j = 0; j < columns; j++) {
    extend(values, j, columns, least);
    extend(values, (rows - 1) * columns + j, -columns, least);
  }
}

/** Carries the line through two inner nodes half a cell on to the outline. */
function extend(values: Float64Array, node: number, step: number, least: number): void {
  const near = values[node + step]!;
  const far = values[node + 2 * step]!;
  const line = near + (near - far) / 2;
  values[node] = Number.isNaN(line) ? near : Math.max(least, line);
}

/** x in the horse frame of a bar's bearing line at distance b from the front tip, mm behind the blade edge. */
export function stationX({ tree, seat }: SeatedTree, bMm: number): number {
  const matrix = barToHorse(seat.pose);
  const y = tree.right.row(bMm).bearingY[0];
  return transformPoint(matrix, ...undersidePoint(tree, 'right', bMm, y))[0];
}

/** The distance from the front tip whose bearing line lies at x; may lie beyond the bar. */
export function stationAtX(seated: SeatedTree, xMm: number): number {
  const length = treeLengthMm(seated.tree);
  const first = stationX(seated, 0);
  const perMm = (stationX(seated, length) - first) / length;
  let b = (xMm - first) / perMm;
  // x runs almost evenly along the bar: two corrections leave less than a thousandth of a millimetre.
  for (let i = 0; i < 2; i++)
    b += (xMm - stationX(seated, Math.min(length, Math.max(0, b)))) / perMm - beyond(b, length);
  return b;
}

const beyond = (b: number, length: number): number => b - Math.min(length, Math.max(0, b));
