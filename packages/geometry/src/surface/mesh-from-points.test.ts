import { describe, expect, it } from 'vitest';
import { InputError, seededRandom } from '../numeric/index.ts';
import { boundaryEdges, meshAreaMm2, meshFromPoints, type TriangleMesh } from './index.ts';

const SEED = 20_240_611;

/** A saddle-shaped back, heights by x and y. */
const back = (x: number, y: number) => 900 + (x - 300) ** 2 / 4000 - y ** 2 / 500;

/** Points at random places of 600 by 400, a share of them left out by `keep`. */
function scatter(count: number, height: (x: number, y: number) => number, keep = (_x: number, _y: number) => true) {
  const random = seededRandom(SEED);
  const positions: number[] = [];
  while (positions.length < 3 * count) {
    const [x, y] = [600 * random(), 400 * random() - 200];
    if (keep(x, y)) positions.push(x, y, height(x, y));
  }
  return Float64Array.from(positions);
}

function worst({ positions }: TriangleMesh, height: (x: number, y: number) => number): number {
  let most = 0;
  for (let i = 0; i < positions.length; i += 3) {
    most = Math.max(most, Math.abs(positions[i + 2] - height(positions[i], positions[i + 1])));
  }
  return most;
}

/** Smallest projected double area of any triangle. */
function smallestArea({ positions: p, triangles: t }: TriangleMesh): number {
  let least = Infinity;
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [3 * t[i], 3 * t[i + 1], 3 * t[i + 2]];
    least = Math.min(least, (p[b] - p[a]) * (p[c + 1] - p[a + 1]) - (p[b + 1] - p[a + 1]) * (p[c] - p[a]));
  }
  return least;
}

/** Border edges and vertices used by them: a disc has one closed border, so equal numbers and Euler number 1. */
function eulerNumber(mesh: TriangleMesh): number {
  const edges = (mesh.triangles.length + boundaryEdges(mesh).reduce((n, flag) => n + flag, 0)) / 2;
  return mesh.positions.length / 3 - edges + mesh.triangles.length / 3;
}

describe('a surface through points', () => {
  it(`a tilted plane comes back exactly, seed ${SEED}`, () => {
    const plane = (x: number, y: number) => 0.3 * x - 0.5 * y + 40;
    const result = meshFromPoints(scatter(8000, plane), { up: [0, 0, 1] });
    expect(worst(result.mesh, plane)).toBeLessThan(1e-9);
    expect(result.scatter).toBeLessThan(1e-9);
    expect(result.pointsUsed + result.pointsBelow).toBe(8000);
    expect(result.pointsBelow).toBe(0);
  });

  it(`the spacing is about four points a cell, seed ${SEED}`, () => {
    const { spacing } = meshFromPoints(scatter(8000, back), { up: [0, 0, 1] });
    expect(Math.abs(spacing / (2 * Math.sqrt((600 * 400) / 8000)) - 1)).toBeLessThan(0.05);
  });

  it(`a curved back within the sag of one cell, and closer with more points, seed ${SEED}`, () => {
    const errors = [4000, 16_000, 64_000].map((count) => {
      const { mesh, spacing } = meshFromPoints(scatter(count, back), { up: [0, 0, 1] });
      // Curvature 1/250 at most; a vertex is off by less than the sag over a cell.
      expect(worst(mesh, back)).toBeLessThan(spacing ** 2 / 250);
      return worst(mesh, back);
    });
    expect(errors[2]).toBeLessThan(errors[1]);
    expect(errors[1]).toBeLessThan(errors[0]);
  });

  it(`noise of 1 is halved at least, and the scatter reported near its median, seed ${SEED}`, () => {
    const random = seededRandom(SEED + 1);
    const points = scatter(60_000, () => 0).map((value, i) => (i % 3 === 2 ? 2 * random() - 1 : value));
    const { mesh, scatter: found } = meshFromPoints(points, { up: [0, 0, 1], spacing: 10 });
    let square = 0;
    for (let i = 2; i < mesh.positions.length; i += 3) square += mesh.positions[i] ** 2;
    // Even noise of half-width 1: standard deviation 0.577, median distance 0.5.
    expect(Math.sqrt(square / (mesh.positions.length / 3))).toBeLessThan(0.577 / 2);
    expect(Math.abs(found - 0.5)).toBeLessThan(0.05);
  });

  it(`every triangle faces up, edges have two faces at most, one border, area as it should be, seed ${SEED}`, () => {
    const { mesh, spacing } = meshFromPoints(
      scatter(20_000, () => 7),
      { up: [0, 0, 1] },
    );
    expect(smallestArea(mesh)).toBeGreaterThan(0);
    expect(eulerNumber(mesh)).toBe(1);
    const area = meshAreaMm2(mesh);
    expect(area).toBeLessThan(600 * 400);
    expect(area).toBeGreaterThan((600 - 2 * spacing) * (400 - 2 * spacing));
  });

  it(`a hole of 2 cells is bridged and counted, one of 10 stays open, seed ${SEED}`, () => {
    const outside = (r: number) => (x: number, y: number) => Math.max(Math.abs(x - 300), Math.abs(y)) > r;
    const small = meshFromPoints(scatter(30_000, back, outside(10)), { up: [0, 0, 1], spacing: 10 });
    const large = meshFromPoints(scatter(30_000, back, outside(50)), { up: [0, 0, 1], spacing: 10 });
    expect([eulerNumber(small.mesh), eulerNumber(large.mesh)]).toEqual([1, 0]);
    expect(small.bridged).toBeGreaterThan(0);
    expect(small.bridged).toBeLessThan(10);
    expect(worst(small.mesh, back)).toBeLessThan(1);
    const never = meshFromPoints(scatter(30_000, back, outside(10)), { up: [0, 0, 1], spacing: 10, holeCells: 0 });
    expect(never.bridged).toBe(0);
    expect(eulerNumber(never.mesh)).toBe(0);
  });

  it(`a floor below is left out and counted, a stray point above does not count, seed ${SEED}`, () => {
    const upper = scatter(20_000, back);
    const lower = scatter(20_000, () => 0);
    const points = Float64Array.from([...upper, ...lower, 300, 0, 2000]);
    const { mesh, pointsUsed, pointsBelow } = meshFromPoints(points, { up: [0, 0, 1], spacing: 10 });
    expect(worst(mesh, back)).toBeLessThan(1);
    expect([pointsUsed, pointsBelow]).toEqual([20_000, 20_001]);
  });

  it(`a wall of points under the surface takes nothing from it: cells keep their few upper points, seed ${SEED}`, () => {
    const random = seededRandom(SEED + 2);
    const upper = scatter(20_000, back);
    const wall = Array.from({ length: 20_000 }, () => [300 + 4 * random(), 100 * random() - 50, 600 * random()]).flat();
    const { mesh, pointsBelow, bridged } = meshFromPoints(Float64Array.from([...upper, ...wall]), { up: [0, 0, 1] });
    // A cell without upper points shows the wall for a moment, and one upper point may go with it.
    expect(Math.abs(pointsBelow - 20_000)).toBeLessThan(5);
    expect(eulerNumber(mesh)).toBe(1);
    expect(worst(mesh, back)).toBeLessThan(1.5);
    expect(bridged).toBeLessThan(0.04 * (mesh.positions.length / 3));
  });

  it(`a cell that misses its upper points shows no floor but is bridged and counted, seed ${SEED}`, () => {
    const outside = (x: number, y: number) => Math.max(Math.abs(x - 305), Math.abs(y - 5)) > 8;
    const floor = scatter(10_000, () => 0);
    const points = Float64Array.from([...scatter(30_000, back, outside), ...floor]);
    const { mesh, bridged, pointsUsed } = meshFromPoints(points, { up: [0, 0, 1], spacing: 10 });
    expect(pointsUsed).toBe(30_000);
    expect(bridged).toBeGreaterThan(0);
    expect(worst(mesh, back)).toBeLessThan(1);
  });

  it(`any up direction gives the same surface turned, whatever its length, seed ${SEED}`, () => {
    const points = scatter(5000, back);
    const straight = meshFromPoints(points, { up: [0, 0, 1], spacing: 15 }).mesh;
    // (x, y, z) -> (y, z, x): z becomes the second axis.
    const turned = points.map((_, i) => points[3 * Math.floor(i / 3) + [1, 2, 0][i % 3]]);
    const result = meshFromPoints(turned, { up: [0, 5, 0], spacing: 15 }).mesh;
    expect(meshAreaMm2(result) / meshAreaMm2(straight)).toBeCloseTo(1, 2);
    const turnedBack = {
      ...result,
      positions: result.positions.map((_, i, p) => p[3 * Math.floor(i / 3) + [2, 0, 1][i % 3]]),
    };
    expect(worst(turnedBack, back)).toBeLessThan(15 ** 2 / 250);
    expect(smallestArea(turnedBack)).toBeGreaterThan(0);
  });

  it('a regular grid of points by hand: one vertex for each four, in their middle', () => {
    const points: number[] = [];
    for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) points.push(i, j, i + j);
    const { mesh } = meshFromPoints(Float64Array.from(points), { up: [0, 0, 1], spacing: 2 });
    expect(mesh.positions.length / 3).toBe(9);
    expect(mesh.triangles.length / 3).toBe(8);
    expect([...mesh.positions.subarray(0, 3)]).toEqual([0.5, 0.5, 1]);
  });

  const REFUSED: readonly [name: string, points: readonly number[], up: [number, number, number], code: string][] = [
    ['no points', [], [0, 0, 1], 'empty'],
    ['two points', [0, 0, 0, 1, 1, 1], [0, 0, 1], 'empty'],
    ['all in one place', [1, 2, 3, 1, 2, 3, 1, 2, 3], [0, 0, 1], 'degenerate'],
    ['all in a line', [0, 0, 0, 1, 0, 0, 2, 0, 0, 3, 0, 0], [0, 0, 1], 'degenerate'],
    ['no up direction', [0, 0, 0, 1, 0, 0, 0, 1, 0], [0, 0, 0], 'degenerate'],
    ['NaN', [0, 0, 0, 1, Number.NaN, 0, 0, 1, 0], [0, 0, 1], 'not-a-number'],
  ];
  for (const [name, points, up, code] of REFUSED) {
    it(`${name}: ${code}`, () => {
      expect(refusal(() => meshFromPoints(Float64Array.from(points), { up })).code).toBe(code);
    });
  }

  it('a spacing far below the points, or a stray point far away, is refused before memory is taken', () => {
    const points = scatter(1000, back);
    expect(refusal(() => meshFromPoints(points, { up: [0, 0, 1], spacing: 1e-4 })).code).toBe('inconsistent');
    const stray = Float64Array.from([...points, 1e9, 1e9, 0]);
    expect(refusal(() => meshFromPoints(stray, { up: [0, 0, 1], spacing: 10 })).code).toBe('inconsistent');
    expect(refusal(() => meshFromPoints(points, { up: [0, 0, 1], holeCells: -1 })).code).toBe('out-of-range');
  });
});

function refusal(work: () => unknown): InputError {
  try {
    work();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('was taken without a refusal');
}
