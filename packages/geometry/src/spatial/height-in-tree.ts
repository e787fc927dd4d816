import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { TriangleTree } from './build-triangle-tree.ts';

/** Looking straight down: the highest z of the mesh over (x, y), NaN where nothing lies there. */
export function createHeightQuery(mesh: TriangleMesh, tree: TriangleTree): (x: number, y: number) => number {
  const { positions: p, triangles } = mesh;
  const { bounds, second, start, count, order } = tree;
  const stack = new Int32Array(tree.depth + 2);
  return (x, y) => {
    if (order.length === 0) return Number.NaN;
    let best = Number.NaN;
    let top = 0;
    stack[0] = 0;
    while (top >= 0) {
      const node = stack[top--];
      const at = 6 * node;
      // Written so that NaN coordinates find nothing.
      if (!(x >= bounds[at] && x <= bounds[at + 3] && y >= bounds[at + 1] && y <= bounds[at + 4])) continue;
      if (bounds[at + 5] < best) continue;
      if (second[node] !== 0) {
        stack[++top] = second[node];
        stack[++top] = node + 1;
        continue;
      }
      for (let i = start[node]; i < start[node] + count[node]; i++) {
        const t = 3 * order[i];
        const z = heightOver(p, 3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2], x, y);
        if (z > best || Number.isNaN(best)) best = z;
      }
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
