import { describe, expect, it } from 'vitest';
import { InputError } from '../numeric/input-error.ts';
import { cleanMesh, meshAreaMm2, type TriangleMesh } from './index.ts';

const SIDE = 10;

/** A square sheet of n x n cells of 1, lifted a little, normals up; `at` moves it sideways. */
function sheet(n: number, at = 0, skip: readonly number[] = []): TriangleMesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  for (let j = 0; j <= n; j++) for (let i = 0; i <= n; i++) positions.push(i + at, j, 0.1 * Math.sin(i) * Math.cos(j));
  for (let j = 0; j < n; j++) {
    for (let i = 0; i < n; i++) {
      const v = j * (n + 1) + i;
      if (!skip.includes(j * n + i)) triangles.push(v, v + 1, v + n + 2, v, v + n + 2, v + n + 1);
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

function merge(...meshes: readonly TriangleMesh[]): TriangleMesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  for (const mesh of meshes) {
    const start = positions.length / 3;
    triangles.push(...mesh.triangles.map((v) => v + start));
    positions.push(...mesh.positions);
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

function flip(mesh: TriangleMesh, faces: (face: number) => boolean): TriangleMesh {
  const triangles = mesh.triangles.slice();
  for (let f = 0; f < triangles.length / 3; f++) {
    if (faces(f)) [triangles[3 * f + 1], triangles[3 * f + 2]] = [triangles[3 * f + 2], triangles[3 * f + 1]];
  }
  return { ...mesh, triangles };
}

/** Every face with corners of its own, as an STL file has them. */
function unshare({ positions, triangles }: TriangleMesh): TriangleMesh {
  const own = [...triangles].flatMap((v) => [...positions.subarray(3 * v, 3 * v + 3)]);
  return { positions: Float64Array.from(own), triangles: Uint32Array.from(triangles, (_, i) => i) };
}

/** A band of 2 n triangles around the z axis, with or without half a twist. */
function band(n: number, twisted: boolean): TriangleMesh {
  const positions: number[] = [];
  for (let i = 0; i < n; i++) {
    const a = (2 * Math.PI * i) / n;
    const b = twisted ? a / 2 : 0;
    for (const w of [-1, 1]) {
      const r = SIDE + w * Math.cos(b);
      positions.push(r * Math.cos(a), r * Math.sin(a), w * Math.sin(b));
    }
  }
  const triangles: number[] = [];
  for (let i = 0; i < n; i++) {
    const crossed = twisted && i === n - 1;
    const c = 2 * ((i + 1) % n);
    const [low, high] = crossed ? [c + 1, c] : [c, c + 1];
    triangles.push(2 * i, 2 * i + 1, high, 2 * i, high, low);
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

/** Height of the area vector: positive when most of the mesh faces up. */
function upwardArea({ positions: p, triangles: t }: TriangleMesh): number {
  let sum = 0;
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [3 * t[i], 3 * t[i + 1], 3 * t[i + 2]];
    sum += ((p[b] - p[a]) * (p[c + 1] - p[a + 1]) - (p[b + 1] - p[a + 1]) * (p[c] - p[a])) / 2;
  }
  return sum;
}

function volume({ positions: p, triangles: t }: TriangleMesh): number {
  let six = 0;
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [3 * t[i], 3 * t[i + 1], 3 * t[i + 2]];
    six += p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]);
    six += p[a + 1] * (p[b + 2] * p[c] - p[b] * p[c + 2]);
    six += p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  return six / 6;
}

const TETRAHEDRON: TriangleMesh = {
  positions: Float64Array.of(0, 0, 0, 6, 0, 0, 0, 6, 0, 0, 0, 6),
  triangles: Uint32Array.of(0, 2, 1, 0, 1, 3, 1, 2, 3, 2, 0, 3),
};

describe('cleanMesh', () => {
  it('leaves a clean sheet as it is and measures its rim', () => {
    const mesh = sheet(SIDE);
    const { mesh: out, report } = cleanMesh(mesh, { up: [0, 0, 1] });
    expect(out).toEqual(mesh);
    expect(report).toMatchObject({
      weldedVertices: 0,
      largestMotion: 0,
      flippedFaces: 0,
      turnedPatches: 0,
      orientable: true,
    });
    expect(report).toMatchObject({ islandsKept: 1, islandsDropped: 0, nonManifoldEdges: 0 });
    expect(report.boundaryLoops.length).toBe(1);
    // Four sides of 10, a little longer for the waves.
    expect(report.boundaryLoops[0]).toBeGreaterThan(40);
    expect(report.boundaryLoops[0]).toBeLessThan(40.2);
  });

  it('welds identical and nearly identical corners, moving none further than the tolerance', () => {
    const mesh = unshare(sheet(SIDE));
    const moved = { ...mesh, positions: mesh.positions.map((v, i) => v + 1e-6 * Math.sin(12.9898 * i)) };
    const { mesh: out, report } = cleanMesh(moved, { weldTolerance: 1e-5 });
    expect(out.positions.length / 3).toBe(11 * 11);
    expect(report.weldedVertices).toBe(mesh.positions.length / 3 - 121);
    expect(report.largestMotion).toBeGreaterThan(0);
    expect(report.largestMotion).toBeLessThan(4e-6);
    expect(report.boundaryLoops.length).toBe(1);
  });

  it('finds the same pairs as a search of all pairs', () => {
    const positions = Float64Array.from(
      { length: 900 },
      (_, i) => Math.round(1e4 * Math.abs(Math.sin(i * 78.233))) / 1e4,
    );
    const triangles = Uint32Array.from({ length: 300 }, (_, i) => i);
    const tolerance = 0.05;
    const { report } = cleanMesh({ positions, triangles }, { weldTolerance: tolerance, minIslandShare: 0 });
    const kept: number[] = [];
    for (let v = 0; v < 300; v++) {
      const near = (w: number) =>
        Math.hypot(...[0, 1, 2].map((k) => positions[3 * v + k] - positions[3 * w + k])) <= tolerance;
      if (!kept.some(near)) kept.push(v);
    }
    expect(300 - report.weldedVertices).toBe(kept.length);
    expect(kept.length).toBeLessThan(300);
  });

  it('leaves out zero-area faces, needles and repeats, and counts each', () => {
    const mesh = sheet(3);
    const positions = Float64Array.of(...mesh.positions, 0, 3 + 1e-10, 0);
    const extra = [0, 1, 1, 0, 1, 2, 5, 1, 0, 12, 15, 16, 5, 0, 1];
    const flat = {
      positions: positions.map((v, i) => (i % 3 === 2 ? 0 : v)),
      triangles: Uint32Array.of(...mesh.triangles, ...extra),
    };
    const { mesh: out, report } = cleanMesh(flat, { weldTolerance: 0 });
    expect(report).toMatchObject({ zeroAreaFaces: 2, needleFaces: 1, duplicateFaces: 2, trianglesOut: 18 });
    expect(meshAreaMm2(out)).toBeCloseTo(9, 12);
  });

  it('turns single faces that wind the other way, and says how many', () => {
    const { mesh: out, report } = cleanMesh(flip(sheet(SIDE), (f) => f % 7 === 0));
    expect(report.flippedFaces).toBe(Math.ceil(200 / 7));
    expect(report.turnedPatches).toBe(0);
    expect(out.triangles).toEqual(sheet(SIDE).triangles);
  });

  it('turns a whole sheet towards the given direction only', () => {
    const down = flip(sheet(SIDE), () => true);
    expect(upwardArea(cleanMesh(down, { up: [0, 0, 1] }).mesh)).toBeCloseTo(100, 9);
    expect(upwardArea(cleanMesh(down, { up: [0, 0, -1] }).mesh)).toBeCloseTo(-100, 9);
    expect(upwardArea(cleanMesh(down).mesh)).toBeCloseTo(-100, 9);
    expect(cleanMesh(down, { up: [0, 0, 1] }).report).toMatchObject({ turnedPatches: 1, flippedFaces: 0 });
  });

  it('turns a closed body outwards: a tetrahedron of volume 36', () => {
    const far = { ...TETRAHEDRON, positions: TETRAHEDRON.positions.map((v) => v + 1000) };
    const { mesh, report } = cleanMesh(
      flip(far, () => true),
      { up: [0, 0, 1] },
    );
    expect(volume(mesh)).toBeCloseTo(36, 4);
    expect(report).toMatchObject({ turnedPatches: 1, boundaryLoops: [] });
  });

  it('reports a Moebius band as one-sided, with one rim; a plain band has two', () => {
    const twisted = cleanMesh(band(24, true)).report;
    expect(twisted).toMatchObject({ orientable: false, trianglesOut: 48 });
    expect(twisted.conflictEdges).toBeGreaterThan(0);
    expect(twisted.boundaryLoops.length).toBe(1);
    const plain = cleanMesh(band(24, false)).report;
    expect(plain).toMatchObject({ orientable: true, conflictEdges: 0 });
    // Rims of a regular 24-gon of radius 11 and 9.
    const rim = (r: number) => 48 * r * Math.sin(Math.PI / 24);
    expect(plain.boundaryLoops.length).toBe(2);
    expect(plain.boundaryLoops[0]).toBeCloseTo(rim(11), 9);
    expect(plain.boundaryLoops[1]).toBeCloseTo(rim(9), 9);
  });

  it('leaves out islands below the stated share of the largest', () => {
    const mesh = merge(sheet(SIDE), sheet(1, 20), sheet(2, 30));
    const { report, mesh: out } = cleanMesh(mesh);
    expect(report).toMatchObject({ islandsKept: 2, islandsDropped: 1, trianglesOut: 208, verticesOut: 130 });
    expect(report.islandsDroppedArea + meshAreaMm2(out)).toBeCloseTo(meshAreaMm2(mesh), 12);
    expect(cleanMesh(mesh, { minIslandShare: 0 }).report.islandsDropped).toBe(0);
    expect(cleanMesh(mesh, { minIslandShare: 0.5 }).report.islandsDropped).toBe(2);
  });

  it('tells holes apart, and counts two that touch at a vertex as one', () => {
    // Cells 33 and 44 of the ten by ten touch at a corner, 77 stands alone.
    const { report } = cleanMesh(sheet(SIDE, 0, [33, 44, 77]));
    const [outer, touching, alone, ...others] = report.boundaryLoops;
    expect(others).toEqual([]);
    expect(Math.abs(outer - 40.1)).toBeLessThan(0.1);
    expect(Math.abs(touching - 8)).toBeLessThan(0.1);
    expect(Math.abs(alone - 4)).toBeLessThan(0.05);
  });

  it('keeps the rims of two sheets apart that touch at a vertex', () => {
    const bow = {
      positions: Float64Array.of(0, 0, 0, 3, 0, 0, 0, 4, 0, -3, 0, 0, 0, -4, 0),
      triangles: Uint32Array.of(0, 1, 2, 0, 3, 4),
    };
    expect(cleanMesh(bow).report).toMatchObject({ boundaryLoops: [12, 12], islandsKept: 2, nonManifoldEdges: 0 });
  });

  it('keeps an edge of three faces and counts it', () => {
    const fin = {
      positions: Float64Array.of(0, 0, 0, 0, 5, 0, 4, 2, 0, -4, 2, 0, 0, 2, 4),
      triangles: Uint32Array.of(0, 2, 1, 0, 1, 3, 0, 1, 4),
    };
    const { report } = cleanMesh(fin);
    expect(report).toMatchObject({ nonManifoldEdges: 1, trianglesOut: 3, islandsKept: 1 });
  });

  it('comes to the same surface when faces are renumbered and corners repeated', () => {
    const mesh = sheet(SIDE);
    const order = [...Array(200).keys()].sort((a, b) => Math.sin(a * 91.7) - Math.sin(b * 91.7));
    const shuffled = {
      ...mesh,
      triangles: Uint32Array.from(order.flatMap((f) => [...mesh.triangles.subarray(3 * f, 3 * f + 3)])),
    };
    const { mesh: out, report } = cleanMesh(unshare(shuffled), { up: [0, 0, 1] });
    const base = cleanMesh(mesh, { up: [0, 0, 1] });
    expect(meshAreaMm2(out)).toBeCloseTo(meshAreaMm2(base.mesh), 10);
    expect(report.boundaryLoops[0]).toBeCloseTo(base.report.boundaryLoops[0], 10);
    expect(report.verticesOut).toBe(base.report.verticesOut);
  });

  it('works at any scale and far from the origin', () => {
    for (const scale of [1e-9, 1e-3, 1e3, 1e9]) {
      const mesh = sheet(SIDE);
      const scaled = { ...mesh, positions: mesh.positions.map((v) => v * scale) };
      expect(cleanMesh(unshare(scaled)).report).toMatchObject({ verticesOut: 121, trianglesOut: 200 });
    }
    const far = { ...sheet(SIDE), positions: sheet(SIDE).positions.map((v) => v + 1e7) };
    expect(cleanMesh(unshare(far)).report).toMatchObject({ verticesOut: 121, trianglesOut: 200 });
    expect(cleanMesh(unshare(far), { weldTolerance: 1e-300 }).report.verticesOut).toBe(121);
  });

  const ONE = sheet(1);
  const BROKEN: readonly [name: string, mesh: TriangleMesh, code: string][] = [
    ['no faces', { ...ONE, triangles: new Uint32Array(0) }, 'empty'],
    ['all points identical', { ...ONE, positions: new Float64Array(12).fill(7) }, 'degenerate'],
    ['all points on a line', { ...ONE, positions: Float64Array.of(0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3) }, 'degenerate'],
    ['an index too large', { ...ONE, triangles: Uint32Array.of(0, 1, 4) }, 'out-of-range'],
    ['a coordinate that is no number', { ...ONE, positions: ONE.positions.map(() => Number.NaN) }, 'not-a-number'],
    ['values that are no triples', { ...ONE, triangles: Uint32Array.of(0, 1) }, 'malformed'],
  ];
  for (const [name, mesh, code] of BROKEN) {
    it(`refuses ${name}: ${code}`, () => {
      expect(() => cleanMesh(mesh)).toThrow(InputError);
      expect(() => cleanMesh(mesh)).toThrow(expect.objectContaining({ code }));
    });
  }

  it('refuses more faces than the budget', () => {
    expect(() => cleanMesh(sheet(3), { maxTriangles: 17 })).toThrow(expect.objectContaining({ code: 'too-large' }));
  });
});
