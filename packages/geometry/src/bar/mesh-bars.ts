import type { TriangleMesh } from '../surface/index.ts';
import { barExtent } from './measure-underside.ts';
import { thicknessAt } from './thickness.ts';
import type { Tree } from './tree.ts';
import { createHeightJet, type Underside } from './underside.ts';

export interface MeshBarsOptions {
  /** Longest edge along and across the bar in plan, mm; rows stand closer where tip corners are rounded. */
  readonly alongMm?: number;
  readonly acrossMm?: number;
}

export const MESH_BARS_DEFAULTS = Object.freeze({ alongMm: 4, acrossMm: 2 });

/** A step in thickness where bar and tip meet is drawn as a ramp this long, mm. */
const STEP_MM = 0.05;
/** Rows over each rounded tip corner. */
const CORNER_ROWS = 20;

/**
 * Each bar as a closed solid in the bar frame, mm: the underside on a grid from inner to outer edge and tip to tip, the top as the
 * same grid lifted along z by thickness / cos(slope) so that the bar has its thickness square to the chord, and upright walls.
 * Flare and relief therefore show on the top as well. The stirrup slot is not cut through. Winding is outward.
 */
export function meshOfBars(tree: Tree, options: MeshBarsOptions = {}): { left: TriangleMesh; right: TriangleMesh } {
  const settings = { ...MESH_BARS_DEFAULTS, ...options };
  return { left: meshOfBar(tree.left, -1, settings), right: meshOfBar(tree.right, 1, settings) };
}

function meshOfBar(bar: Underside, mirror: 1 | -1, options: Required<MeshBarsOptions>): TriangleMesh {
  const stations = rowStations(bar, options.alongMm);
  const widest = Math.max(...stations.map((b) => bar.row(b).outlineHalfWidthY));
  const columns = 2 * Math.max(4, Math.ceil(widest / options.acrossMm));
  const sheet = stations.length * (columns + 1);
  const positions = new Float64Array(6 * sheet);
  const jet = createHeightJet();
  stations.forEach((b, i) => {
    const row = bar.row(b);
    const rise = thicknessAt(bar, b) / Math.cos(row.slopeRad);
    for (let j = 0; j <= columns; j++) {
      const y = row.middleY[0] + ((2 * j) / columns - 1) * row.outlineHalfWidthY;
      const z = bar.heightJet(row, y, jet).z;
      const k = 3 * (i * (columns + 1) + j);
      positions.set([b - bar.shape.rockLowPointMm, mirror * y, z], k);
      positions.set([b - bar.shape.rockLowPointMm, mirror * y, z + rise], k + 3 * sheet);
    }
  });
  return { positions, triangles: solidFaces(stations.length, columns + 1, mirror) };
}

/** Even rows, one at each of the pattern's stations, and closer ones within the tip corners' radius so that the outline turns by equal angles. */
function rowStations(bar: Underside, alongMm: number): number[] {
  const { fromMm, toMm } = barExtent(bar);
  const { tipRoundMm, lengthMm } = bar.shape;
  const rows = Math.max(8, Math.ceil((toMm - fromMm) / alongMm));
  const all = Array.from({ length: rows + 1 }, (_, i) => fromMm + ((toMm - fromMm) * i) / rows);
  all.push(...bar.shape.stations.map((s) => s.atMm));
  const [front, rear] = [bar.shape.tipLengthFrontMm, lengthMm - bar.shape.tipLengthRearMm];
  all.push(front, front - STEP_MM, rear, rear + STEP_MM);
  for (let i = 0; i <= CORNER_ROWS && tipRoundMm > 0; i++) {
    const way = tipRoundMm * (1 - Math.cos((i / CORNER_ROWS) * (Math.PI / 2)));
    all.push(way, lengthMm - way);
  }
  const inside = all.filter((b) => b > fromMm && b < toMm).sort((a, b) => a - b);
  const least = 1e-3 * alongMm;
  const kept = [fromMm];
  for (const b of inside) if (b - kept[kept.length - 1] > least && toMm - b > least) kept.push(b);
  return [...kept, toMm];
}

/** Faces of two equal grids, the second above the first, and the walls between their rims. */
function solidFaces(rows: number, columns: number, mirror: 1 | -1): Uint32Array {
  const top = rows * columns;
  const faces: number[] = [];
  const quad = (a: number, b: number, c: number, d: number): void => {
    if (mirror > 0) faces.push(a, b, c, a, c, d);
    else faces.push(a, c, b, a, d, c);
  };
  for (let i = 0; i + 1 < rows; i++) {
    for (let j = 0; j + 1 < columns; j++) {
      const a = i * columns + j;
      quad(a, a + 1, a + columns + 1, a + columns);
      quad(top + a, top + a + columns, top + a + columns + 1, top + a + 1);
    }
  }
  for (let i = 0; i + 1 < rows; i++) {
    const inner = i * columns;
    const outer = inner + columns - 1;
    quad(inner, inner + columns, top + inner + columns, top + inner);
    quad(outer, top + outer, top + outer + columns, outer + columns);
  }
  for (let j = 0; j + 1 < columns; j++) {
    const rear = (rows - 1) * columns + j;
    quad(j, top + j, top + j + 1, j + 1);
    quad(rear, rear + 1, top + rear + 1, top + rear);
  }
  return Uint32Array.from(faces);
}
