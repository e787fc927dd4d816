import { expect, test } from 'vitest';
import { seededRandom } from '../numeric/index.ts';
import { dropFaces } from './drop-faces.ts';
import { buildEdgeTable, nextHalfEdge } from './edge-table.ts';

/** Faces over `vertices` vertices; with a hub, every face has vertex 0, so that very many edges hang on it. */
function faces(seed: number, count: number, vertices: number, hub: boolean): Uint32Array {
  const random = seededRandom(seed);
  const out: number[] = [];
  while (out.length < 3 * count) {
    const face = [0, 1, 2].map((k) => (hub && k === 0 ? 0 : Math.floor(random() * vertices)));
    if (new Set(face).size === 3) out.push(...face);
  }
  return Uint32Array.from(out);
}

test.each([
  [1, 400, 60, false],
  [2, 40, 300, false],
  [3, 900, 500, true],
])('edges are those found by a map, crowded vertices or not (seed %i)', (seed, count, vertices, hub) => {
  const triangles = faces(seed, count, vertices, hub);
  const byName = new Map<string, number[]>();
  for (let h = 0; h < triangles.length; h++) {
    const name = [triangles[h], triangles[nextHalfEdge(h)]].sort((a, b) => a - b).join();
    byName.set(name, [...(byName.get(name) ?? []), h]);
  }
  const { edgeOf, faceCount, opposite } = buildEdgeTable(triangles);
  expect(faceCount.length).toBe(byName.size);
  for (const [number, on] of [...byName.values()].entries()) {
    expect(faceCount[number]).toBe(on.length);
    for (const h of on) {
      expect(edgeOf[h]).toBe(number);
      expect(opposite[h]).toBe(on.length === 2 ? on[0] + on[1] - h : -1);
    }
  }
});

test.each([
  [4, 900, 20, false],
  [5, 3000, 90, true],
])('repeats are those found by a set, crowded vertices or not (seed %i)', (seed, count, vertices, hub) => {
  const triangles = faces(seed, count, vertices, hub);
  const random = seededRandom(seed);
  const positions = Float64Array.from({ length: 3 * vertices }, () => random());
  const seen = new Set<string>();
  const kept: number[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const face = [...triangles.subarray(t, t + 3)];
    const name = face
      .slice()
      .sort((a, b) => a - b)
      .join();
    if (!seen.has(name)) kept.push(...face);
    seen.add(name);
  }
  const found = dropFaces(positions, triangles, 1e9);
  expect([...found.triangles]).toEqual(kept);
  expect(found).toMatchObject({ duplicates: count - kept.length / 3, zeroArea: 0, needles: 0 });
  expect(found.duplicates).toBeGreaterThan(100);
});
