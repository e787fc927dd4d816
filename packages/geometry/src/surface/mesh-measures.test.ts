import { describe, expect, it } from 'vitest';
import { boundaryEdges, medianEdgeLength, meshAreaMm2, meshBounds } from './index.ts';

const RECTANGLE = {
  positions: Float64Array.of(-3, 1, 2, 0, 1, 2, 0, 5, 2, -3, 5, 2),
  triangles: Uint32Array.of(0, 1, 2, 0, 2, 3),
};

describe('measures of a mesh', () => {
  it('a rectangle of 3 by 4: area, box, rim flags and median edge', () => {
    expect(meshAreaMm2(RECTANGLE)).toBe(12);
    expect(meshBounds(RECTANGLE)).toEqual({ min: [-3, 1, 2], max: [0, 5, 2] });
    // Edges in order 0-1, 1-2, 2-0 and 0-2, 2-3, 3-0: the diagonal alone is shared.
    expect([...boundaryEdges(RECTANGLE)]).toEqual([1, 1, 0, 0, 1, 1]);
    // Lengths 3, 4, 5, 5, 3, 4.
    expect(medianEdgeLength(RECTANGLE)).toBe(4);
  });

  it("a torus R 300, r 80: area 4 pi^2 R r = 947,482.02 within the facets' own shortfall, no rim", () => {
    const [m, n, big, small] = [240, 120, 300, 80];
    const positions: number[] = [];
    const triangles: number[] = [];
    for (let i = 0; i < m; i++) {
      for (let j = 0; j < n; j++) {
        const [u, v] = [(2 * Math.PI * i) / m, (2 * Math.PI * j) / n];
        const r = big + small * Math.cos(v);
        positions.push(r * Math.cos(u), r * Math.sin(u), small * Math.sin(v));
        const at = (a: number, b: number) => ((i + a) % m) * n + ((j + b) % n);
        triangles.push(at(0, 0), at(1, 0), at(1, 1), at(0, 0), at(1, 1), at(0, 1));
      }
    }
    const torus = { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
    expect(Math.abs(meshAreaMm2(torus) / 947_482.02 - 1)).toBeLessThan(5e-4);
    expect(boundaryEdges(torus).every((flag) => flag === 0)).toBe(true);
  });

  it('the sampled median looks at all three edges of the faces', () => {
    const strip = { positions: new Float64Array(3 * 2002), triangles: new Uint32Array(3 * 2000) };
    for (let i = 0; i < 2002; i++) strip.positions.set([i >> 1, i % 2, 0], 3 * i);
    for (let i = 0; i < 2000; i++) strip.triangles.set([i, i + 1, i + 2], 3 * i);
    // Edges of length 1, 1 and root 2 in equal numbers: any even sample has median 1.
    for (const samples of [1000, 2000, 2001, 6000]) expect(medianEdgeLength(strip, samples)).toBe(1);
    expect(medianEdgeLength({ ...strip, triangles: new Uint32Array(0) })).toBeNaN();
  });
});
