import { describe, expect, it } from 'vitest';
import { buildTriangleTree } from './build-triangle-tree.ts';
import { createHeightQuery } from './height-in-tree.ts';
import { heightMesh } from './mesh.fixture.ts';
import { mulberry32 } from './seeded.fixture.ts';

describe('createHeightQuery', () => {
  it('reads a plane exactly, takes the upper of two sheets, and finds nothing in a hole or beyond (seed 4)', () => {
    const plane = (x: number, y: number) => 3 + 0.2 * x - 0.4 * y;
    const mesh = heightMesh(plane, [-50, 50], [-40, 40], 6, 4, (x, y) => Math.hypot(x, y) < 12);
    const upper = { positions: mesh.positions.map((p, k) => (k % 3 === 2 ? p + 9 : p)), triangles: mesh.triangles };
    const both = {
      positions: Float64Array.from([...upper.positions, ...mesh.positions]),
      triangles: Uint32Array.from([...upper.triangles, ...mesh.triangles.map((v) => v + mesh.positions.length / 3)]),
    };
    const one = createHeightQuery(mesh, buildTriangleTree(mesh));
    const two = createHeightQuery(both, buildTriangleTree(both));
    const random = mulberry32(4);
    for (let k = 0; k < 300; k++) {
      const x = random() * 98 - 49;
      const y = random() * 76 - 39;
      if (Math.hypot(x, y) < 20) continue;
      expect(one(x, y)).toBeCloseTo(plane(x, y), 9);
      expect(two(x, y)).toBeCloseTo(plane(x, y) + 9, 9);
    }
    for (const [x, y] of [
      [0, 1],
      [60, 0],
      [0, -41],
      [Number.NaN, 0],
    ])
      expect(one(x, y)).toBeNaN();
  });
});
