import type { BarView } from '../../contract.ts';

/** Whose curvature, and in which direction it is read. */
export const CURVATURES = ['back-across', 'back-along', 'bar-across', 'bar-along'] as const;
export type CurvatureOf = (typeof CURVATURES)[number];

const PER_M = 1000;

/**
 * Normal curvature in 1/m along the bar's rows (across) or columns (along), by central differences of the unit normals
 * over the cells on either side: dn . dp / |dp|^2. The same sense for both surfaces, so that a bar that matches the back
 * has the back's number: + arched up away from the horse as the outside of a barrel, - hollow from above. NaN without
 * data of the back, for its own, and where feet lie on one another.
 */
export function curvatureOf(bar: BarView, of: CurvatureOf): Float32Array {
  const isBack = of.startsWith('back');
  const isAcross = of.endsWith('across');
  const out = new Float32Array(bar.rows * bar.columns);
  for (let i = 0; i < bar.rows; i++) {
    for (let j = 0; j < bar.columns; j++) {
      const place = isAcross ? j : i;
      const last = (isAcross ? bar.columns : bar.rows) - 1;
      const step = isAcross ? 1 : bar.columns;
      const cell = i * bar.columns + j;
      const before = place === 0 ? cell : cell - step;
      const after = place === last ? cell : cell + step;
      out[cell] = isBack
        ? between(bar.feet, bar.backNormals, before, after, bar.gapMm)
        : -between(bar.positions, bar.normals, before, after, null);
    }
  }
  return out;
}

/** null: known everywhere. */
function between(
  points: Float32Array,
  normals: Float32Array,
  p: number,
  q: number,
  gapMm: Float32Array | null,
): number {
  if (gapMm !== null && (Number.isNaN(gapMm[p]!) || Number.isNaN(gapMm[q]!))) return Number.NaN;
  let turned = 0;
  let length = 0;
  for (let c = 0; c < 3; c++) {
    const dp = points[3 * q + c]! - points[3 * p + c]!;
    turned += dp * (normals[3 * q + c]! - normals[3 * p + c]!);
    length += dp * dp;
  }
  return length < LEAST_MM2 ? Number.NaN : (PER_M * turned) / length;
}

/** Feet closer together than this say nothing about a turn between them. */
const LEAST_MM2 = 0.01;
