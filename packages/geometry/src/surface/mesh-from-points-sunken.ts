import type { Cells } from './mesh-from-points-thin.ts';

/** A cell this far below most of its neighbours, in cells, shows what lies under the surface, through a place without points. */
const SUNKEN = 4;
const MOST_OF_EIGHT = 5;
const ROUNDS = 3;

/**
 * Empties filled cells that lie far below at least five of their eight neighbours: there the upper surface has no points by chance, and
 * an underside shows through. Left in, such a cell would be no hole and so would never be bridged.
 * @returns how many points the emptied cells held.
 */
export function emptySunkenCells({ vertices, columns, rows, side, held }: Cells): number {
  let points = 0;
  for (let round = 0; round < ROUNDS; round++) {
    const sunken: number[] = [];
    for (let row = 1; row + 1 < rows; row++) {
      for (let column = 1; column + 1 < columns; column++) {
        const cell = row * columns + column;
        const height = vertices[3 * cell + 2];
        if (Number.isNaN(height)) continue;
        let above = 0;
        for (let k = 0; k < 9; k++) {
          const beside = cell + (Math.floor(k / 3) - 1) * columns + (k % 3) - 1;
          if (vertices[3 * beside + 2] > height + SUNKEN * side) above++;
        }
        if (above >= MOST_OF_EIGHT) sunken.push(cell);
      }
    }
    for (const cell of sunken) {
      points += held[cell];
      vertices.fill(Number.NaN, 3 * cell, 3 * cell + 3);
    }
    if (sunken.length === 0) break;
  }
  return points;
}
