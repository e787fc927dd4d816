import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { cellOf } from './build-plan-grid.ts';
import { hasArea, type TriangleTree } from './build-triangle-tree.ts';

/** Looking straight down: the highest z of the mesh over (x, y), NaN where nothing lies there. */
export function createHeightQuery(mesh: TriangleMesh, tree: TriangleTree): (x: number, y: number) => number {
  const { positions: p, triangles } = mesh;
  return (x, y) => {
    const { x0, y0, cell, ni, nj, offset, list } = tree.plan;
    const k = cellOf(x, x0, 1 / cell, ni) * nj + cellOf(y, y0, 1 / cell, nj);
    let best = Number.NaN;
    for (let n = offset[k]; n < offset[k + 1]; n++) {
      const t = 3 * list[n];
      const z = heightOver(p, 3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2], x, y);
      // Written so that the first height beats NaN, and NaN beats none.
      if (Number.isNaN(z) || z <= best || !hasArea(mesh, list[n])) continue;
      best = z;
    }
    return best;
  };
}

/** Edges count as inside. NaN off the triangle and on one that stands upright. */
function heightOver(p: Float64Array, a: number, b: number, c: number, x: number, y: number): number {
  const bx = p[b] - p[a];
  const by = p[b + 1] - p[a + 1];
  const cx = p[c] - p[a];
  const cy = p[c + 1] - p[a + 1];
  const area = bx * cy - by * cx;
  if (area === 0) return Number.NaN;
  const beta = ((x - p[a]) * cy - (y - p[a + 1]) * cx) / area;
  const gamma = (bx * (y - p[a + 1]) - by * (x - p[a])) / area;
  const slack = -1e-9;
  if (!(beta >= slack && gamma >= slack && beta + gamma <= 1 - slack)) return Number.NaN;
  return p[a + 2] + beta * (p[b + 2] - p[a + 2]) + gamma * (p[c + 2] - p[a + 2]);
}
