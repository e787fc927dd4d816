import type { Cells } from './mesh-from-points-thin.ts';

const SWEEPS = 60;

/**
 * Fills empty cells that filled ones enclose, at most `across` cells wide and long; larger holes and those open to the edge stay.
 * Heights relax to the mean of the four neighbours (Laplace's equation, Gauss and Seidel's sweeps).
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
    relax(cells, hole.cells);
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

function relax({ vertices, columns, side }: Cells, hole: readonly number[]): void {
  for (const cell of hole) {
    vertices[3 * cell] = ((cell % columns) + 0.5) * side;
    vertices[3 * cell + 1] = (Math.floor(cell / columns) + 0.5) * side;
  }
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    for (const cell of hole) {
      let sum = 0;
      let count = 0;
      for (const next of [cell - 1, cell + 1, cell - columns, cell + columns]) {
        const height = vertices[3 * next + 2];
        if (Number.isNaN(height)) continue;
        sum += height;
        count++;
      }
      if (count > 0) vertices[3 * cell + 2] = sum / count;
    }
  }
}
