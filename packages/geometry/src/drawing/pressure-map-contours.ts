/** A grid of nodes with values; NaN where there is none. Row-major. */
export interface ValueGrid {
  readonly rows: number;
  readonly columns: number;
  readonly values: Float64Array;
}

/** A chain of places in grid coordinates: row and column of the two nodes it lies between, and how far along. */
export type Chain = readonly Crossing[];

export interface Crossing {
  readonly nodeA: number;
  readonly nodeB: number;
  /** 0 at nodeA, 1 at nodeB. */
  readonly share: number;
}

/** Sides of a cell: top, right, bottom, left. */
const TOP = 0;
const RIGHT = 1;
const BOTTOM = 2;
const LEFT = 3;

/**
 * Segments by which corners are inside (top left 8, top right 4, bottom right 2, bottom left 1), drawn with the inside on
 * the right. Marching squares after Lorensen & Cline 1987 (the plane case), from memory; 5 and 10 are the saddles.
 */
const SEGMENTS: Readonly<Record<number, readonly (readonly [number, number])[]>> = {
  1: [[LEFT, BOTTOM]],
  2: [[BOTTOM, RIGHT]],
  3: [[LEFT, RIGHT]],
  4: [[RIGHT, TOP]],
  6: [[BOTTOM, TOP]],
  7: [[LEFT, TOP]],
  8: [[TOP, LEFT]],
  9: [[TOP, BOTTOM]],
  11: [[TOP, RIGHT]],
  12: [[RIGHT, LEFT]],
  13: [[RIGHT, BOTTOM]],
  14: [[BOTTOM, LEFT]],
};
const SADDLES_APART: Readonly<Record<number, readonly (readonly [number, number])[]>> = {
  5: [
    [RIGHT, TOP],
    [LEFT, BOTTOM],
  ],
  10: [
    [TOP, LEFT],
    [BOTTOM, RIGHT],
  ],
};
const SADDLES_JOINED: Readonly<Record<number, readonly (readonly [number, number])[]>> = {
  5: [
    [LEFT, TOP],
    [RIGHT, BOTTOM],
  ],
  10: [
    [TOP, RIGHT],
    [BOTTOM, LEFT],
  ],
};

/** Closed rings around everything at or above a level; the grid's border and places without value count as outside. */
export function regionRings(grid: ValueGrid, level: number): Chain[] {
  return chainUp(collect(grid, level, 1));
}

/** Lines along a level, only between places that have values. A closed line ends where it begins. */
export function levelLines(grid: ValueGrid, level: number): Chain[] {
  return chainUp(collect(grid, level, 0));
}

/** A segment, under the side of the cell that it begins at. */
interface Link {
  readonly next: number;
  readonly from: Crossing;
  readonly to: Crossing;
}

/** Every segment of a level. `pad` 1 walks a ring of outside nodes around the grid as well, so that all chains close. */
function collect(grid: ValueGrid, level: number, pad: 0 | 1): Map<number, Link> {
  const links = new Map<number, Link>();
  const { rows, columns } = grid;
  for (let r = -pad; r < rows - 1 + pad; r++) {
    for (let c = -pad; c < columns - 1 + pad; c++) {
      const corners = [
        valueAt(grid, r, c),
        valueAt(grid, r, c + 1),
        valueAt(grid, r + 1, c + 1),
        valueAt(grid, r + 1, c),
      ];
      if (pad === 0 && corners.includes(Number.NEGATIVE_INFINITY)) continue;
      for (const [from, to] of segmentsOf(corners, level)) {
        links.set(sideId(columns, r, c, from), {
          next: sideId(columns, r, c, to),
          from: crossingOf(grid, r, c, from, level),
          to: crossingOf(grid, r, c, to, level),
        });
      }
    }
  }
  return links;
}

function segmentsOf(corners: readonly number[], level: number): readonly (readonly [number, number])[] {
  const shape = corners.reduce((bits, value) => 2 * bits + (value >= level ? 1 : 0), 0);
  if (shape !== 5 && shape !== 10) return SEGMENTS[shape] ?? [];
  const middle = corners.reduce((sum, value) => sum + value, 0) / 4;
  return (middle >= level ? SADDLES_JOINED : SADDLES_APART)[shape]!;
}

function valueAt({ rows, columns, values }: ValueGrid, r: number, c: number): number {
  if (r < 0 || c < 0 || r >= rows || c >= columns) return Number.NEGATIVE_INFINITY;
  const value = values[r * columns + c]!;
  return Number.isNaN(value) ? Number.NEGATIVE_INFINITY : value;
}

/** A number for each side, the same from both of its cells. */
function sideId(columns: number, r: number, c: number, side: number): number {
  const [row, column] = [side === BOTTOM ? r + 1 : r, side === RIGHT ? c + 1 : c];
  const isAcross = side === TOP || side === BOTTOM;
  return 2 * ((row + 1) * (columns + 2) + column + 1) + (isAcross ? 0 : 1);
}

function crossingOf(grid: ValueGrid, r: number, c: number, side: number, level: number): Crossing {
  const [r0, c0] = [side === BOTTOM ? r + 1 : r, side === RIGHT ? c + 1 : c];
  const isAcross = side === TOP || side === BOTTOM;
  const [r1, c1] = isAcross ? [r0, c0 + 1] : [r0 + 1, c0];
  const a = valueAt(grid, r0, c0);
  const b = valueAt(grid, r1, c1);
  // Beside the outside the crossing lies on the node that has a value.
  const share = a === Number.NEGATIVE_INFINITY ? 1 : b === Number.NEGATIVE_INFINITY ? 0 : (level - a) / (b - a);
  return { nodeA: nodeAt(grid, r0, c0), nodeB: nodeAt(grid, r1, c1), share };
}

const nodeAt = ({ rows, columns }: ValueGrid, r: number, c: number): number =>
  Math.min(rows - 1, Math.max(0, r)) * columns + Math.min(columns - 1, Math.max(0, c));

/** Joins segments end to start: first the chains that begin at the border, then the rings. */
function chainUp(links: Map<number, Link>): Chain[] {
  const reached = new Set([...links.values()].map(({ next }) => next));
  const starts = [...links.keys()].filter((side) => !reached.has(side));
  const chains: Chain[] = [];
  for (const start of [...starts, ...links.keys()]) {
    const chain = walk(links, start);
    if (chain.length > 1) chains.push(chain);
  }
  return chains;
}

function walk(links: Map<number, Link>, start: number): Chain {
  const chain: Crossing[] = [];
  for (let side = start, link = links.get(side); link !== undefined; side = link.next, link = links.get(side)) {
    links.delete(side);
    if (chain.length === 0) chain.push(link.from);
    chain.push(link.to);
  }
  return chain;
}
