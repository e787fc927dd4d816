import type { BarView } from '../../contract.ts';
import { gridTriangles } from './grid.ts';

const ROW_STRIDE = 3;
const COLUMN_STRIDE = 3;

/** Which rows and columns of cells the wood is drawn at: ends always, every third between. */
export const chosen = (cells: number, stride: number): number[] => {
  const out: number[] = [];
  for (let i = 0; i < cells - 1; i += stride) out.push(i);
  return [...out, cells - 1];
};

export interface WoodNet {
  readonly rows: readonly number[];
  readonly columns: readonly number[];
  /** 3n: top net, then the border of the underside. */
  readonly positions: Float32Array;
  /** The upper side's first, then the edges'. */
  readonly triangles: Uint32Array;
  readonly topIndices: number;
  /** Places in the top net round its border, in order. */
  readonly border: readonly number[];
}

export function createWoodNet({ rows, columns }: Pick<BarView, 'rows' | 'columns'>): WoodNet {
  const r = chosen(rows, ROW_STRIDE);
  const c = chosen(columns, COLUMN_STRIDE);
  const border = borderOf(r.length, c.length);
  const top = r.length * c.length;
  const walls = new Uint32Array(6 * border.length);
  border.forEach((a, k) => {
    const next = (k + 1) % border.length;
    walls.set([a, border[next]!, top + k, border[next]!, top + next, top + k], 6 * k);
  });
  const net = gridTriangles(r.length, c.length);
  const triangles = new Uint32Array(net.length + walls.length);
  triangles.set(net);
  triangles.set(walls, net.length);
  return {
    rows: r,
    columns: c,
    positions: new Float32Array(3 * (top + border.length)),
    triangles,
    topIndices: net.length,
    border,
  };
}

function borderOf(rows: number, columns: number): number[] {
  const out: number[] = [];
  for (let j = 0; j < columns; j++) out.push(j);
  for (let i = 1; i < rows; i++) out.push(i * columns + columns - 1);
  for (let j = columns - 2; j >= 0; j--) out.push((rows - 1) * columns + j);
  for (let i = rows - 2; i > 0; i--) out.push(i * columns);
  return out;
}

/** Upper side and edges of a bar, from its cells. */
export function fillWood(bar: BarView, net: WoodNet): void {
  const cell = (k: number): number => {
    const width = net.columns.length;
    return net.rows[Math.floor(k / width)]! * bar.columns + net.columns[k % width]!;
  };
  const top = net.rows.length * net.columns.length;
  const copy = (from: Float32Array, k: number, to: number): void => {
    for (let c = 0; c < 3; c++) net.positions[3 * to + c] = from[3 * k + c]!;
  };
  for (let k = 0; k < top; k++) copy(bar.topPositions, cell(k), k);
  net.border.forEach((k, i) => {
    copy(bar.positions, cell(k), top + i);
  });
}
