import { ExactWelder, scramble } from './exact-welder.ts';

export interface WeldedVertices {
  /** 3n coordinates of the vertices kept: the first of each group, unmoved. The array handed in when all were kept. */
  readonly positions: Float64Array;
  /** New number of each old vertex. */
  readonly vertexOf: Uint32Array;
  /** Largest distance from an old vertex to the one that took its place. */
  readonly largestMotion: number;
}

/**
 * Joins each vertex to the first kept one within `tolerance`, so nothing moves further than that and groups don't creep along chains.
 * Looked up in a hashed grid: first in cells as wide as the vertices lie apart, where most searches end in one cell; where that
 * crowds many vertices into one, in cells four tolerances wide, which hold few kept vertices because those are more than a
 * tolerance apart.
 */
export function weldVertices(positions: Float64Array, tolerance: number): WeldedVertices {
  const { farthest, spacing } = spread(positions);
  // Cell numbers must stay exact whole numbers; a tolerance below that is below the coordinates' own spacing anyway.
  if (!(tolerance > 0) || farthest / tolerance > 2 ** 50) return weldExactly(positions);
  const cell = 4 * tolerance;
  return (
    weldInGrid(positions, tolerance, Math.max(cell, spacing), 16) ?? weldInGrid(positions, tolerance, cell, Infinity)!
  );
}

/** Largest coordinate, and how far apart the vertices would lie if they were spread evenly over the box's largest face. */
function spread(positions: Float64Array): { farthest: number; spacing: number } {
  const sides = [0, 0, 0];
  let farthest = 0;
  for (let k = 0; k < 3; k++) {
    let low = Infinity;
    let high = -Infinity;
    for (let i = k; i < positions.length; i += 3) {
      if (positions[i] < low) low = positions[i];
      if (positions[i] > high) high = positions[i];
    }
    sides[k] = high - low;
    farthest = Math.max(farthest, -low, high);
  }
  sides.sort((a, b) => b - a);
  return { farthest, spacing: Math.sqrt((3 * sides[0] * sides[1]) / positions.length) };
}

/** Null when more than `mostLooks` kept vertices are looked at for each vertex, on average. */
function weldInGrid(
  positions: Float64Array,
  tolerance: number,
  cell: number,
  mostLooks: number,
): WeldedVertices | null {
  const vertices = positions.length / 3;
  const vertexOf = new Uint32Array(vertices);
  // Kept vertices by their old numbers plus one: the newest in each slot, and the one before each.
  const newest = new Int32Array(2 ** Math.ceil(Math.log2(Math.max(2, vertices))));
  const older = new Int32Array(vertices);
  const mask = newest.length - 1;
  const perCell = 1 / cell;
  const squareTolerance = tolerance * tolerance;
  // A ball of one tolerance this far inside its cell touches no other, with something to spare for rounding.
  const margin = 1.01 * tolerance * perCell;
  let looks = mostLooks * (vertices + 100);
  let count = 0;
  let largestSquare = 0;
  const isInner = (share: number): boolean => share > margin && share < 1 - margin;
  const squareTo = (w: number, x: number, y: number, z: number): number => {
    const dx = positions[3 * w] - x;
    const dy = positions[3 * w + 1] - y;
    const dz = positions[3 * w + 2] - z;
    return dx * dx + dy * dy + dz * dz;
  };
  /** The nearest kept vertex in one slot within tolerance, if it beats `found`; of two as near the earlier one. */
  const nearestIn = (slot: number, x: number, y: number, z: number, found: number): number => {
    let best = found;
    let square = found < 0 ? squareTolerance : squareTo(found, x, y, z);
    for (let w = newest[slot] - 1; w >= 0; w = older[w] - 1) {
      looks--;
      const d = squareTo(w, x, y, z);
      if (d > square || (d === square && best >= 0 && best < w)) continue;
      square = d;
      best = w;
    }
    return best;
  };
  /** In all cells that a ball of one tolerance touches, at most eight. */
  const nearestAround = (x: number, y: number, z: number): number => {
    let best = -1;
    const iEnd = Math.floor((x + tolerance) * perCell);
    const jEnd = Math.floor((y + tolerance) * perCell);
    const kEnd = Math.floor((z + tolerance) * perCell);
    for (let i = Math.floor((x - tolerance) * perCell); i <= iEnd; i++) {
      for (let j = Math.floor((y - tolerance) * perCell); j <= jEnd; j++) {
        for (let k = Math.floor((z - tolerance) * perCell); k <= kEnd; k++) {
          best = nearestIn(hashCell(i, j, k) & mask, x, y, z, best);
        }
      }
    }
    return best;
  };
  for (let v = 0; v < vertices; v++) {
    const x = positions[3 * v];
    const y = positions[3 * v + 1];
    const z = positions[3 * v + 2];
    const i = Math.floor(x * perCell);
    const j = Math.floor(y * perCell);
    const k = Math.floor(z * perCell);
    const slot = hashCell(i, j, k) & mask;
    const found: number =
      isInner(x * perCell - i) && isInner(y * perCell - j) && isInner(z * perCell - k)
        ? nearestIn(slot, x, y, z, -1)
        : nearestAround(x, y, z);
    if (looks < 0) return null;
    if (found >= 0) {
      largestSquare = Math.max(largestSquare, squareTo(found, x, y, z));
      vertexOf[v] = vertexOf[found];
      continue;
    }
    older[v] = newest[slot];
    newest[slot] = v + 1;
    vertexOf[v] = count++;
  }
  const kept = count === vertices ? positions : keptPositions(positions, vertexOf, count);
  return { positions: kept, vertexOf, largestMotion: Math.sqrt(largestSquare) };
}

/** Of each group its first member, which is the first vertex to carry the group's number. */
function keptPositions(positions: Float64Array, vertexOf: Uint32Array, count: number): Float64Array {
  const kept = new Float64Array(3 * count);
  for (let v = 0, next = 0; v < vertexOf.length; v++) {
    if (vertexOf[v] !== next) continue;
    kept[3 * next] = positions[3 * v];
    kept[3 * next + 1] = positions[3 * v + 1];
    kept[3 * next + 2] = positions[3 * v + 2];
    next++;
  }
  return kept;
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
  return scramble(Math.imul(i, 0x9e3779b1) ^ Math.imul(j, 0x85ebca6b) ^ Math.imul(k, 0xc2b2ae35));
}
