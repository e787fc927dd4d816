import { describe, expect, it } from 'vitest';
import { InputError, seededRandom } from '../numeric/index.ts';
import type { TriangleMesh } from '../surface/index.ts';
import { demoShape, plainShape } from './demo-shapes.fixture.ts';
import { demoTree, treeOf } from './demo-tree.fixture.ts';
import { measureBarMesh } from './measure-bar-mesh.ts';
import { measureTree } from './measure-tree.ts';
import { meshOfBars } from './mesh-bars.ts';

/** Grid of z over x and y, faces looking down. */
function sheet(
  x: readonly [number, number, number],
  y: readonly [number, number, number],
  z: (x: number, y: number) => number,
): TriangleMesh {
  const [nx, ny] = [x[2], y[2]];
  const positions = new Float64Array(3 * (nx + 1) * (ny + 1));
  const faces: number[] = [];
  for (let i = 0; i <= nx; i++) {
    for (let j = 0; j <= ny; j++) {
      const [px, py] = [x[0] + ((x[1] - x[0]) * i) / nx, y[0] + ((y[1] - y[0]) * j) / ny];
      positions.set([px, py, z(px, py)], 3 * (i * (ny + 1) + j));
      if (i === nx || j === ny) continue;
      const a = i * (ny + 1) + j;
      faces.push(a, a + 1, a + ny + 2, a, a + ny + 2, a + ny + 1);
    }
  }
  return { positions, triangles: Uint32Array.from(faces) };
}

const turned = ({ positions, triangles }: TriangleMesh): TriangleMesh => ({
  positions,
  triangles: triangles.map((_, i) => triangles[i - (i % 3) + [0, 2, 1][i % 3]]),
});

const moved = (mesh: TriangleMesh, map: (x: number, y: number, z: number) => number[]): TriangleMesh => {
  const positions = new Float64Array(mesh.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    positions.set(map(mesh.positions[i], mesh.positions[i + 1], mesh.positions[i + 2]), i);
  }
  return { positions, triangles: mesh.triangles };
};

const joined = (a: TriangleMesh, b: TriangleMesh): TriangleMesh => ({
  positions: Float64Array.from([...a.positions, ...b.positions]),
  triangles: Uint32Array.from([...a.triangles, ...b.triangles.map((v) => v + a.positions.length / 3)]),
});

function codeOf(run: () => unknown): string {
  try {
    run();
  } catch (error) {
    if (error instanceof InputError) return error.code;
    throw error;
  }
  return 'nothing was thrown';
}

const post = meshOfBars(demoTree('post'));
const bothPost = joined(post.left, post.right);

describe('a torus-shaped bar: crown r, rock A + sqrt(r^2 - (y - y0)^2) along each line of constant y', () => {
  const [a, r, y0] = [1000, 450, 300];
  const ring = (y: number): number => a + Math.sqrt(r * r - (y - y0) ** 2);
  const mesh = sheet([-240, 240, 240], [60, 180, 80], (x, y) => ring(120) - Math.sqrt(ring(y) ** 2 - x * x));
  const { right, left } = measureBarMesh(mesh, { stations: [{ name: 'low', bMm: 240 }] });

  it('gives the crown and both slopes of the circle at the low station', () => {
    const [low] = right!.stations;
    const drop = ring(60) - ring(180);
    expect(left).toBeNull();
    expect(low.crownRadiusMm! / r).toBeCloseTo(1, 3);
    expect(Math.abs(low.slopeDeg - (Math.atan2(-drop, 120) * 180) / Math.PI)).toBeLessThan(0.002);
    expect(Math.abs(low.middleTangentSlopeDeg - (Math.asin((y0 - 120) / r) * 180) / Math.PI)).toBeLessThan(0.005);
    expect(low.widthMm).toBeCloseTo(Math.hypot(120, drop), 3);
  });

  it('gives a different exact radius on each line, and one low point', () => {
    expect(right!.rock.map((line) => line.line)).toEqual(['bearing', 'inner edge', 'middle', 'outer edge']);
    for (const [k, y] of [120, 60, 120, 180].entries()) {
      expect(Math.abs(right!.rock[k].radiusMm! / ring(y) - 1)).toBeLessThan(1e-3);
      expect(Math.abs(right!.rock[k].radiusFitMm! / ring(y) - 1)).toBeLessThan(1e-3);
    }
    expect(Math.abs(right!.lowPointMm! - 240)).toBeLessThan(0.05);
    expect(Math.abs(right!.twistDeg)).toBeLessThan(0.005);
  });
});

describe('axes, unit, side and midplane', () => {
  const plain = measureBarMesh(bothPost);

  it('does not depend on how the file names its axes, nor on its unit', () => {
    const file = moved(bothPost, (x, y, z) => [z / 25.4, -x / 25.4, -y / 25.4]);
    const other = measureBarMesh(file, { unit: 'in', axes: { tail: '-y', right: '-z', up: '+x' } });
    expectSame(other, plain, 1e-6);
  });

  it('does not depend on where along and above the file has its origin, and takes a midplane that is not at 0', () => {
    const file = moved(bothPost, (x, y, z) => [x + 700, y + 33, z - 250]);
    expectSame(measureBarMesh(file, { midplaneMm: 33 }), plain, 1e-6);
  });

  it('swaps left and right for a mirrored mesh and nothing else', () => {
    const uneven = meshOfBars(treeOf(demoShape('post'), demoShape('wren')));
    const mesh = joined(uneven.left, uneven.right);
    const straight = measureBarMesh(mesh);
    const mirrored = measureBarMesh(turned(moved(mesh, (x, y, z) => [x, -y, z])));
    expect(straight.left!.overallLengthMm).toBeCloseTo(560, 9);
    expectSame({ ...mirrored, left: mirrored.right, right: mirrored.left }, straight, 1e-9);
    expect([mirrored.right!.overallLengthMm, mirrored.left!.overallLengthMm].map(Math.round)).toEqual([560, 500]);
  });

  it('measures an inside-out solid like the solid', () => {
    expectSame(measureBarMesh(turned(bothPost)), plain, 1e-12);
  });

  it('measures only the bar that is asked for, and one bar without a pair', () => {
    const only = measureBarMesh(bothPost, { side: 'left' });
    expect(only.right).toBeNull();
    expect(only.pairs).toEqual([]);
    expect(only.left!.stations.map((s) => s.slopeDeg)).toEqual(plain.left!.stations.map((s) => s.slopeDeg));
  });
});

/** Compares all numbers of two measurements, each to a share of its size, whatever their sides are called. */
function expectSame(got: unknown, expected: unknown, share: number): void {
  const flat = (value: unknown): number[] => {
    if (typeof value === 'number') return [value];
    return typeof value === 'object' && value !== null ? Object.values(value).flatMap(flat) : [];
  };
  const [a, b] = [flat(got), flat(expected)];
  expect(a.length).toBe(b.length);
  expect(a.length).toBeGreaterThan(100);
  const worst = a.reduce((most, v, i) => Math.max(most, Math.abs(v - b[i]) / Math.max(1, Math.abs(b[i]))), 0);
  expect(worst).toBeLessThanOrEqual(share);
}

describe('what other people export', () => {
  const shape = plainShape({ crownCurvaturePerMm: 1 / 450, rockCurvaturePerMm: 1 / 1450, bearingInsetMm: 55 });
  const tree = treeOf(shape);
  const own = measureTree(tree).right!;

  it('leaves out side walls that stand square to the underside and so look down', () => {
    const { right } = meshOfBars(tree);
    const half = right.positions.length / 2;
    const positions = right.positions.slice();
    for (let i = half; i < positions.length; i += 3) {
      positions[i + 1] = positions[i + 1 - half] + 22 * Math.sin(Math.PI / 6);
      positions[i + 2] = positions[i + 2 - half] + 22 * Math.cos(Math.PI / 6);
    }
    const measured = measureBarMesh({ positions, triangles: right.triangles });
    expect(measured.remarks.join()).toContain('taken for its side walls');
    for (const s of measured.right!.stations.filter((v) => v.name.endsWith('%'))) {
      expect(Math.abs(s.slopeDeg - 30)).toBeLessThan(0.005);
      expect(Math.abs(s.widthMm - 120)).toBeLessThan(0.01);
    }
  });

  it('measures round a stirrup slot', () => {
    const { right } = meshOfBars(tree);
    const kept: number[] = [];
    for (let i = 0; i < right.triangles.length; i += 3) {
      const v = 3 * right.triangles[i];
      const inSlot = Math.abs(right.positions[v]) < 35 && Math.abs(right.positions[v + 1] - 125) < 8;
      if (!inSlot) kept.push(...right.triangles.subarray(i, i + 3));
    }
    const holed = { positions: right.positions, triangles: Uint32Array.from(kept) };
    const { right: bar } = measureBarMesh(holed, { stations: [{ name: 'slot', bMm: 250 }] });
    expect(kept.length).toBeLessThan(right.triangles.length);
    expect(Math.abs(bar!.stations[0].slopeDeg - 30)).toBeLessThan(0.005);
    expect(Math.abs(bar!.rock[0].radiusMm! / 1450 - 1)).toBeLessThan(1e-3);
  });

  it('keeps to half a degree and half a millimetre on a scan with 0.1 mm of noise (seed 41)', () => {
    const random = seededRandom(41);
    const noise = (): number => 0.1 * Math.sqrt(12) * (random() - 0.5);
    const noisy = moved(meshOfBars(demoTree('post')).right, (x, y, z) => [x, y, z + noise()]);
    const { right: bar } = measureBarMesh(noisy);
    const truth = measureTree(demoTree('post')).right!;
    for (const [k, share] of [20, 50, 80].entries()) {
      const s = bar!.stations.find((v) => v.name === `${share} %`)!;
      expect(Math.abs(s.slopeDeg - [43, 34, 25][k])).toBeLessThan(0.5);
    }
    expect(Math.abs(bar!.rock[0].sagMm - truth.rock[0].sagMm)).toBeLessThan(0.5);
    expect(Math.abs(bar!.flareFront.flareLiftMm - 18)).toBeLessThan(0.5);
  });

  it('takes a relief that is given instead of looking for it', () => {
    const given = measureBarMesh(post.right, { reliefFraction: 0.08 }).right!;
    for (const [k, s] of given.stations.filter((v) => v.name.endsWith('%')).entries()) {
      expect(Math.abs(s.slopeDeg - [43, 34, 25][k])).toBeLessThan(0.02);
      expect(Math.abs(s.reliefWidthInnerMm / (s.outerEdgeYMm - s.innerEdgeYMm) - 0.08)).toBeLessThan(1e-9);
    }
  });

  it('says that a mesh has no bearing line of its own, and how far beside the bar the one it took runs', () => {
    const plain = measureBarMesh(post.right);
    expect(plain.right!.bearingLine).toContain('|y| = 120 mm');
    expect(plain.right!.remarks).toEqual([]);
    const beside = measureBarMesh(post.right, { bearingLineYMm: 145 });
    expect(beside.right!.bearingLine).toContain('|y| = 145 mm');
    expect(beside.right!.remarks.join()).toMatch(/up to 9\.\d mm beside the bar/);
  });

  it('agrees with the exact underside on the plain bar', () => {
    const measured = measureBarMesh(meshOfBars(tree).right).right!;
    expect(Math.abs(measured.rock[0].sagMm - own.rock[0].sagMm)).toBeLessThan(0.01);
    expect(measured.flareFront.flareZoneMm).toBe(0);
    expect(Math.abs(measured.flareRear.flareLiftMm)).toBeLessThan(0.005);
  });
});

describe('hostile meshes', () => {
  const flat = sheet([0, 500, 50], [60, 180, 12], () => 7);

  it('a flat patch has slope 0, no radius, no low point and no NaN', () => {
    const { right } = measureBarMesh(flat);
    expect(right!.stations).toHaveLength(12);
    for (const s of right!.stations) {
      expect(s.slopeDeg).toBeCloseTo(0, 10);
      expect(s.crownRadiusMm).toBeNull();
      expect(s.crownHeightMm).toBeCloseTo(0, 10);
    }
    expect(right!.rock.map((line) => [line.radiusMm, line.radiusFitMm])).toEqual(Array(4).fill([null, null]));
    expect(right!.lowPointMm).toBeNull();
    expect(right!.bearingLengthMm).toBe(500);
  });

  it.each([
    ['no triangles', 'empty', () => measureBarMesh({ positions: new Float64Array(0), triangles: new Uint32Array(0) })],
    ['only the top of a bar', 'degenerate', () => measureBarMesh(turned(flat))],
    ['millimetres called metres', 'wrong-unit', () => measureBarMesh(post.right, { unit: 'm' })],
    ['inches called millimetres', 'wrong-unit', () => measureBarMesh(moved(flat, (...p) => p.map((v) => v / 25.4)))],
    ['the wrong side', 'missing', () => measureBarMesh(post.right, { side: 'left' })],
    ['bars joined over the midplane', 'inconsistent', () => measureBarMesh(moved(flat, (x, y, z) => [x, y - 120, z]))],
    [
      'an axis named twice',
      'inconsistent',
      () => measureBarMesh(flat, { axes: { tail: '+x', right: '-x', up: '+z' } }),
    ],
    ['axes that mirror', 'inconsistent', () => measureBarMesh(flat, { axes: { tail: '+x', right: '-y', up: '+z' } })],
    ['a coordinate that is NaN', 'not-a-number', () => measureBarMesh(moved(flat, (x, y) => [x, y, Number.NaN]))],
    [
      'a saw-tooth without any arc',
      'degenerate',
      () => measureBarMesh(sheet([0, 500, 50], [60, 180, 2], (_, y) => (y === 120 ? -400 : 0))),
    ],
  ])('refuses %s with "%s"', (_, code, run) => {
    expect(codeOf(run)).toBe(code);
  });

  it('tells in the refusal of a swapped axis which one it should be', () => {
    try {
      measureBarMesh(flat, { axes: { tail: '+x', right: '-y', up: '+z' } });
      expect.unreachable('mirroring axes were taken');
    } catch (error) {
      expect((error as InputError).details.expected).toContain('right is +y');
    }
  });
});
