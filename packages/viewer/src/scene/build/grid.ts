/** Indices of a rows x columns net, two triangles per cell, counter-clockwise for (row, column) right-handed. */
export function gridTriangles(rows: number, columns: number): Uint32Array {
  const out = new Uint32Array(6 * (rows - 1) * (columns - 1));
  let at = 0;
  for (let i = 0; i + 1 < rows; i++) {
    for (let j = 0; j + 1 < columns; j++) {
      const a = i * columns + j;
      out.set([a, a + columns, a + 1, a + 1, a + columns, a + columns + 1], at);
      at += 6;
    }
  }
  return out;
}

/** Rows and columns of the net that reaches the bar's edges: one more point all round than there are cells. */
export const extended = (cells: number): number => cells + 2;

/**
 * Points of a net over cell centres, carried on by half a cell to the bar's edges. `cells` is rows x columns x 3 row-major;
 * `out` takes (rows + 2) x (columns + 2) x 3 and must not alias it.
 */
export function extendPositions(cells: Float32Array, rows: number, columns: number, out: Float32Array): Float32Array {
  const wide = extended(columns);
  for (let i = 0; i < extended(rows); i++) {
    const [i0, i1, si] = neighbours(i, rows);
    for (let j = 0; j < wide; j++) {
      const [j0, j1, sj] = neighbours(j, columns);
      for (let c = 0; c < 3; c++) {
        const at = (r: number, k: number): number => cells[3 * (r * columns + k) + c]!;
        const base = at(i0, j0);
        out[3 * (i * wide + j) + c] = base + si * (at(i0, j0) - at(i1, j0)) + sj * (at(i0, j0) - at(i0, j1));
      }
    }
  }
  return out;
}

/** The cell that a point of the net belongs to, its inner neighbour, and how far outward the point lies, in cells. */
function neighbours(place: number, cells: number): [number, number, number] {
  if (place === 0) return [0, 1, 0.5];
  if (place === cells + 1) return [cells - 1, cells - 2, 0.5];
  return [place - 1, place - 1, 0];
}

/** The cell whose value a point of the net shows. */
export const cellOf = (i: number, j: number, rows: number, columns: number): number =>
  Math.min(rows - 1, Math.max(0, i - 1)) * columns + Math.min(columns - 1, Math.max(0, j - 1));
