import type { Cells } from './mesh-from-points-thin.ts';

const LEAST_SWEEPS = 60;

/**
 * Fills empty cells that filled ones enclose, at most `across` cells wide and long; larger holes and those open to the edge stay.
 * Vertices relax to the mean place of their four neighbours (Laplace's equation, Gauss and Seidel's sweeps), so that a hole in a
 * plane is filled by that plane.
 * @returns how many cells were filled.
 */
export function fillSmallHoles(cells: Cells, across: number): number {
  const { vertices, columns } = cells;
  const seen = new Uint8Array(vertices.length / 3);
  let bridged = 0;
  for (let cell = 0; cell < seen.length; cell++) {
    if (seen[cell] !== 0 || !Number.isNaN(vertices[3 * cell])) continue;
    const hole = holeAt(cells, cell, seen);
    const columnsOf = hole.cells.map((c) => c % columns);
    const width = spread(columnsOf);
    const length = spread(hole.cells.map((c) => Math.floor(c / columns)));
    if (hole.open || width > across || length > across) continue;
    relax(cells, hole.cells, LEAST_SWEEPS + 4 * across * across);
    bridged += hole.cells.length;
  }
  return bridged;
}

function spread(values: readonly number[]): number {
  let low = Infinity;
  let high = -Infinity;
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return high - low + 1;
}

/** Empty cells that hang together by their sides, and whether they reach the grid's edge. */
function holeAt({ vertices, columns, rows }: Cells, start: number, seen: Uint8Array) {
  const found = [start];
  let open = false;
  seen[start] = 1;
  for (let i = 0; i < found.length; i++) {
    const column = found[i] % columns;
    const row = Math.floor(found[i] / columns);
    if (column === 0 || row === 0 || column === columns - 1 || row === rows - 1) open = true;
    const beside = [
      column > 0 ? found[i] - 1 : -1,
      column < columns - 1 ? found[i] + 1 : -1,
      row > 0 ? found[i] - columns : -1,
      row < rows - 1 ? found[i] + columns : -1,
    ];
    for (const next of beside) {
      if (next < 0 || seen[next] !== 0 || !Number.isNaN(vertices[3 * next])) continue;
      seen[next] = 1;
      found.push(next);
    }
  }
  return { cells: found, open };
}

/** A vertex that is the mean of its four neighbours stays within its cell when theirs do, so the net stays sound. */
function relax({ vertices, columns }: Cells, hole: readonly number[], sweeps: number): void {
  for (let sweep = 0; sweep < sweeps; sweep++) {
    for (const cell of hole) {
      const known = [cell - 1, cell + 1, cell - columns, cell + columns].filter((c) => !Number.isNaN(vertices[3 * c]));
      if (known.length === 0) continue;
      for (let k = 0; k < 3; k++) {
        vertices[3 * cell + k] = known.reduce((sum, c) => sum + vertices[3 * c + k], 0) / known.length;
      }
    }
  }
}
