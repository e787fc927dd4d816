import { ExactWelder, scramble } from './exact-welder.ts';

export interface WeldedVertices {
  /** 3n coordinates of the vertices kept: the first of each group, unmoved. */
  readonly positions: Float64Array;
  /** New number of each old vertex. */
  readonly vertexOf: Uint32Array;
  /** Largest distance from an old vertex to the one that took its place. */
  readonly largestMotion: number;
}

/**
 * Joins each vertex to the first kept one within `tolerance`, so nothing moves further than that and groups don't creep along chains.
 * Grid of cells four tolerances wide, hashed: a cell holds few kept vertices because they are more than a tolerance apart.
 */
export function weldVertices(positions: Float64Array, tolerance: number): WeldedVertices {
  const farthest = positions.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  // Cell numbers must stay exact whole numbers; a tolerance below that is below the coordinates' own spacing anyway.
  if (!(tolerance > 0) || farthest / tolerance > 2 ** 50) return weldExactly(positions);
  const vertices = positions.length / 3;
  const kept = new Float64Array(positions.length);
  const vertexOf = new Uint32Array(vertices);
  const heads = new Int32Array(2 ** Math.ceil(Math.log2(Math.max(2, vertices)))).fill(-1);
  const next = new Int32Array(vertices);
  const mask = heads.length - 1;
  const cell = 4 * tolerance;
  let count = 0;
  let largestSquare = 0;
  for (let v = 0; v < vertices; v++) {
    const x = positions[3 * v];
    const y = positions[3 * v + 1];
    const z = positions[3 * v + 2];
    let found = -1;
    let square = tolerance * tolerance;
    // The cells that a ball of one tolerance touches: mostly one, at most eight.
    for (let i = Math.floor((x - tolerance) / cell); i <= Math.floor((x + tolerance) / cell); i++) {
      for (let j = Math.floor((y - tolerance) / cell); j <= Math.floor((y + tolerance) / cell); j++) {
        for (let k = Math.floor((z - tolerance) / cell); k <= Math.floor((z + tolerance) / cell); k++) {
          for (let w = heads[hashCell(i, j, k) & mask]; w >= 0; w = next[w]) {
            const d = (kept[3 * w] - x) ** 2 + (kept[3 * w + 1] - y) ** 2 + (kept[3 * w + 2] - z) ** 2;
            if (d > square || (d === square && found >= 0 && found < w)) continue;
            square = d;
            found = w;
          }
        }
      }
    }
    if (found < 0) {
      found = count++;
      kept[3 * found] = x;
      kept[3 * found + 1] = y;
      kept[3 * found + 2] = z;
      const slot = hashCell(Math.floor(x / cell), Math.floor(y / cell), Math.floor(z / cell)) & mask;
      next[found] = heads[slot];
      heads[slot] = found;
    } else if (square > largestSquare) largestSquare = square;
    vertexOf[v] = found;
  }
  return { positions: kept.slice(0, 3 * count), vertexOf, largestMotion: Math.sqrt(largestSquare) };
}

function weldExactly(positions: Float64Array): WeldedVertices {
  const welder = new ExactWelder();
  const vertexOf = new Uint32Array(positions.length / 3);
  for (let v = 0; v < vertexOf.length; v++) {
    vertexOf[v] = welder.add(positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]);
  }
  return { positions: welder.positions(), vertexOf, largestMotion: 0 };
}

function hashCell(i: number, j: number, k: number): number {
  return scramble(Math.imul(i, 0x9e3779b1) ^ scramble(Math.imul(j, 0x85ebca6b) ^ scramble(k | 0)));
}
