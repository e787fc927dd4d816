import { describe, expect, it } from 'vitest';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { buildPlanGrid } from './build-plan-grid.ts';
import { buildTriangleTree } from './build-triangle-tree.ts';
import { closestPointOnTriangle } from './closest-point-on-triangle.ts';
import { createHeightQuery } from './height-in-tree.ts';
import { heightMesh } from './mesh.fixture.ts';
import { createNearestHit, createNearestQuery } from './nearest-in-tree.ts';
import { mulberry32 } from './seeded.fixture.ts';

/** Triangles of any size in any direction, some upright, some needles right across. */
function thicket(seed: number, triangles: number): TriangleMesh {
  const random = mulberry32(seed);
  const positions = new Float64Array(9 * triangles);
  for (let t = 0; t < triangles; t++) {
    const size = 0.5 * 400 ** random();
    const middle = [200 * random() - 100, 120 * random(), 60 * random()];
    for (let k = 0; k < 9; k++) positions[9 * t + k] = middle[k % 3] + size * (random() - 0.5);
    if (t % 9 === 0) for (let corner = 1; corner < 3; corner++) positions[9 * t + 3 * corner] = positions[9 * t];
  }
  return { positions, triangles: Uint32Array.from({ length: 3 * triangles }, (_, k) => k) };
}

function nearestByAll(mesh: TriangleMesh, p: readonly [number, number, number]): number {
  const found = new Float64Array(4);
  let best = Number.POSITIVE_INFINITY;
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const [a, b, c] = mesh.triangles.subarray(t, t + 3);
    closestPointOnTriangle(mesh.positions, 3 * a, 3 * b, 3 * c, ...p, found);
    best = Math.min(best, found[3]);
  }
  return best;
}

describe('buildPlanGrid', () => {
  it('holds every triangle in every cell that its box touches, and not many times over (seeds 1, 2)', () => {
    for (const mesh of [thicket(1, 400), heightMesh((x) => x, [-9, 500], [3, 90], 7, 2)]) {
      const { x0, y0, cell, ni, nj, offset, list } = buildPlanGrid(mesh);
      expect(offset[ni * nj]).toBe(list.length);
      expect(list.length).toBeLessThanOrEqual(2 * mesh.triangles.length);
      for (let t = 0; t < mesh.triangles.length / 3; t++) {
        const corners = [0, 1, 2].map((k) => 3 * mesh.triangles[3 * t + k]);
        const xs = corners.map((at) => mesh.positions[at]);
        const ys = corners.map((at) => mesh.positions[at + 1]);
        for (let i = 0; i < ni; i++) {
          for (let j = 0; j < nj; j++) {
            const inside =
              Math.min(...xs) < x0 + (i + 1) * cell &&
              Math.max(...xs) > x0 + i * cell &&
              Math.min(...ys) < y0 + (j + 1) * cell &&
              Math.max(...ys) > y0 + j * cell;
            if (inside) expect(list.subarray(offset[i * nj + j], offset[i * nj + j + 1])).toContain(t);
          }
        }
      }
    }
  });

  it('needles right across do not fill it, and an empty mesh has one empty cell', () => {
    const count = 300;
    const positions = Float64Array.from(
      { length: 9 * count },
      (_, k) => [0, 0, 0, 900, 900, 0, 900, 901, 5][k % 9] + k / 9,
    );
    const needles = { positions, triangles: Uint32Array.from({ length: 3 * count }, (_, k) => k) };
    expect(buildPlanGrid(needles).list.length).toBeLessThanOrEqual(6 * count);
    const empty = buildPlanGrid({ positions: Float64Array.of(1e9, 0, 0, -1e9, 5, 5), triangles: new Uint32Array(0) });
    expect([empty.ni, empty.nj, empty.list.length]).toEqual([1, 1, 0]);
  });
});

describe('queries', () => {
  it('nearest points from the grid and from the boxes are those of all triangles, near and far off (seed 5)', () => {
    const random = mulberry32(5);
    for (const mesh of [thicket(3, 300), heightMesh((x, y) => 0.1 * x - 0.002 * y * y, [0, 300], [-80, 80], 5, 4)]) {
      const tree = buildTriangleTree(mesh);
      const nearest = createNearestQuery(mesh, tree);
      const hit = createNearestHit();
      for (let n = 0; n < 60; n++) {
        const reach = n % 3 === 0 ? 900 : 260;
        const p = [reach * (random() - 0.4), reach * (random() - 0.5), reach * (random() - 0.5)] as const;
        const want = nearestByAll(mesh, p);
        // The first 16 come from the grid.
        nearest(...p, hit);
        expect(hit.squaredDistance).toBe(want);
        expect(Math.hypot(hit.x - p[0], hit.y - p[1], hit.z - p[2])).toBeCloseTo(Math.sqrt(want), 9);
      }
    }
  });

  it('the height is the highest of all triangles above a place (seed 6)', () => {
    const mesh = thicket(6, 250);
    const heightAt = createHeightQuery(mesh, buildTriangleTree(mesh));
    const one = { ...mesh, triangles: mesh.triangles };
    const random = mulberry32(6);
    let met = 0;
    for (let n = 0; n < 500; n++) {
      const [x, y] = [260 * random() - 130, 160 * random() - 20];
      let want = Number.NaN;
      for (let t = 0; t < mesh.triangles.length; t += 3) {
        const single = { positions: one.positions, triangles: one.triangles.subarray(t, t + 3) };
        const z = createHeightQuery(single, buildTriangleTree(single))(x, y);
        if (!(z <= want) && !Number.isNaN(z)) want = z;
      }
      if (Number.isNaN(want)) expect(heightAt(x, y)).toBeNaN();
      else expect(heightAt(x, y)).toBe(want);
      met += Number.isNaN(want) ? 0 : 1;
    }
    expect(met).toBeGreaterThan(200);
  });
});
