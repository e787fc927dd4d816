import { describe, expect, it } from 'vitest';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { CORNER_0, closestPointOnTriangle, FACE } from './closest-point-on-triangle.ts';
import { createFootRows } from './distance-field.ts';
import { heightMesh } from './mesh.fixture.ts';
import { createMeshDistanceField } from './mesh-distance.ts';
import { mulberry32 } from './seeded.fixture.ts';

/** A generic (odd-angled) rotation, rows of R. */
const TURN = rotation(0.37, -0.81, 1.23);

function rotation(a: number, b: number, c: number): number[] {
  const [ca, sa, cb, sb, cc, sc] = [Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b), Math.cos(c), Math.sin(c)];
  return [
    cb * cc,
    sa * sb * cc - ca * sc,
    ca * sb * cc + sa * sc,
    cb * sc,
    sa * sb * sc + ca * cc,
    ca * sb * sc - sa * cc,
    -sb,
    sa * cb,
    ca * cb,
  ];
}

function turned(points: Float64Array, shift = [31.7, -12.9, 5.3]): Float64Array {
  const out = new Float64Array(points.length);
  for (let k = 0; k < points.length; k += 3) {
    for (let r = 0; r < 3; r++) {
      out[k + r] =
        TURN[3 * r] * points[k] + TURN[3 * r + 1] * points[k + 1] + TURN[3 * r + 2] * points[k + 2] + shift[r];
    }
  }
  return out;
}

/** A closed, bumpy convex-and-concave solid: an octahedron split three times and pushed in and out. */
function bumpySolid(): TriangleMesh {
  let corners: number[][] = [
    [1, 0, 0],
    [-1, 0, 0],
    [0, 1, 0],
    [0, -1, 0],
    [0, 0, 1],
    [0, 0, -1],
  ];
  let faces = [
    [0, 2, 4],
    [2, 1, 4],
    [1, 3, 4],
    [3, 0, 4],
    [2, 0, 5],
    [1, 2, 5],
    [3, 1, 5],
    [0, 3, 5],
  ];
  for (let level = 0; level < 3; level++) {
    const middles = new Map<string, number>();
    const next: number[][] = [...corners];
    const middle = (a: number, b: number) => {
      const key = a < b ? `${a},${b}` : `${b},${a}`;
      const known = middles.get(key);
      if (known !== undefined) return known;
      const m = corners[a].map((v, k) => v + corners[b][k]);
      const length = Math.hypot(...m);
      next.push(m.map((v) => v / length));
      middles.set(key, next.length - 1);
      return next.length - 1;
    };
    const split: number[][] = [];
    for (const [a, b, c] of faces) {
      const [ab, bc, ca] = [middle(a, b), middle(b, c), middle(c, a)];
      split.push([a, ab, ca], [ab, b, bc], [ca, bc, c], [ab, bc, ca]);
    }
    faces = split;
    corners = next;
  }
  const grown = corners.flatMap((c) =>
    c.map((v) => v * 100 * (1 + 0.25 * Math.sin(4 * c[0] + 1) * Math.cos(5 * c[1]))),
  );
  return { positions: Float64Array.from(grown), triangles: Uint32Array.from(faces.flat()) };
}

function bruteForce(mesh: TriangleMesh, x: number, y: number, z: number) {
  const out = new Float64Array(4);
  let best = Number.POSITIVE_INFINITY;
  let feature = FACE;
  let triangle = -1;
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const [a, b, c] = mesh.triangles.subarray(t, t + 3);
    const f = closestPointOnTriangle(mesh.positions, 3 * a, 3 * b, 3 * c, x, y, z, out);
    if (out[3] < best) {
      best = out[3];
      feature = f;
      triangle = t / 3;
    }
  }
  return { distance: Math.sqrt(best), feature, triangle };
}

/** Inside or not by the winding number: sum of the solid angles of all faces (van Oosterom & Strackee 1983, from memory). */
function isInside(mesh: TriangleMesh, p: Float64Array): boolean {
  let total = 0;
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => {
      const v = 3 * mesh.triangles[t + k];
      return [mesh.positions[v] - p[0], mesh.positions[v + 1] - p[1], mesh.positions[v + 2] - p[2]];
    });
    const [la, lb, lc] = [a, b, c].map((v) => Math.hypot(...v));
    const dot = (u: number[], v: number[]) => u[0] * v[0] + u[1] * v[1] + u[2] * v[2];
    const det =
      a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
    total += 2 * Math.atan2(det, la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb);
  }
  return Math.abs(total) > 2 * Math.PI;
}

describe('closestPointOnTriangle', () => {
  it('is not beaten by 400 sampled points of the triangle (seed 2)', () => {
    const random = mulberry32(2);
    const out = new Float64Array(4);
    const seen = new Set<number>();
    for (let run = 0; run < 300; run++) {
      const corners = Float64Array.from({ length: 9 }, () => random() * 20 - 10);
      const p = [random() * 40 - 20, random() * 40 - 20, random() * 40 - 20];
      seen.add(closestPointOnTriangle(corners, 0, 3, 6, p[0], p[1], p[2], out));
      let sampled = Number.POSITIVE_INFINITY;
      for (let k = 0; k < 400; k++) {
        const s = random();
        const t = random() * (1 - s);
        const q = [0, 1, 2].map((i) => (1 - s - t) * corners[i] + s * corners[3 + i] + t * corners[6 + i]);
        sampled = Math.min(sampled, (p[0] - q[0]) ** 2 + (p[1] - q[1]) ** 2 + (p[2] - q[2]) ** 2);
      }
      expect(out[3]).toBeLessThanOrEqual(sampled + 1e-9);
      expect(sampled - out[3]).toBeLessThan(400);
    }
    expect(seen.size).toBe(7);
  });
});

describe('createMeshDistanceField', () => {
  it('agrees with brute force over all triangles, and its sign with the winding number (seed 5)', () => {
    const solid = bumpySolid();
    const mesh = { ...solid, positions: turned(solid.positions) };
    const random = mulberry32(5);
    const points = turned(Float64Array.from({ length: 1500 }, () => random() * 300 - 150));
    const rows = createFootRows(500);
    createMeshDistanceField(mesh).evaluate(points, 0, 500, 'left', rows, false);
    const features = new Set<string>();
    for (let k = 0; k < 500; k++) {
      const p = points.subarray(3 * k, 3 * k + 3);
      const brute = bruteForce(mesh, p[0], p[1], p[2]);
      const inside = isInside(mesh, p);
      features.add(
        `${inside ? 'in' : 'out'} ${brute.feature === FACE ? 'face' : brute.feature < CORNER_0 ? 'edge' : 'vertex'}`,
      );
      expect(rows.hasData[k]).toBe(1);
      expect(Math.abs(rows.distanceMm[k])).toBeCloseTo(brute.distance, 10);
      expect(rows.distanceMm[k] < 0).toBe(inside);
      for (let axis = 0; axis < 3; axis++) {
        const back = rows.footMm[3 * k + axis] + rows.distanceMm[k] * rows.normal[3 * k + axis];
        expect(back).toBeCloseTo(p[axis], 8);
      }
    }
    expect(features.size).toBeGreaterThanOrEqual(5);
  });

  it('Hessian agrees with central differences of the normal wherever the feature stays the same (seed 9)', () => {
    const solid = bumpySolid();
    const random = mulberry32(9);
    const points = Float64Array.from({ length: 900 }, () => random() * 320 - 160);
    const field = createMeshDistanceField(solid);
    const rows = createFootRows(300);
    field.evaluate(points, 0, 300, 'left', rows, true);
    const h = 1e-4;
    const cell = [0, 1, 2, 1, 3, 4, 2, 4, 5];
    let agreed = 0;
    const curved = new Set<number>();
    for (let axis = 0; axis < 3; axis++) {
      const [low, high] = [-h, h].map((by) => {
        const moved = createFootRows(300);
        field.evaluate(
          points.map((p, k) => (k % 3 === axis ? p + by : p)),
          0,
          300,
          'left',
          moved,
          false,
        );
        return moved;
      });
      for (let k = 0; k < 300; k++) {
        const worst = Math.max(
          ...[0, 1, 2].map((r) =>
            Math.abs(
              (high.normal[3 * k + r] - low.normal[3 * k + r]) / (2 * h) - rows.hessian[6 * k + cell[3 * r + axis]],
            ),
          ),
        );
        if (worst < 1e-5) agreed++;
        if (rows.hessian[6 * k] !== 0) curved.add(k);
      }
    }
    expect(agreed).toBeGreaterThan(880);
    expect(curved.size).toBeGreaterThan(50);
  });

  it('a nearest point on the border or on the rim of a hole is no data; over the sheet there is data (seed 13)', () => {
    const hole = (x: number, y: number) => Math.hypot(x - 10, y + 5) < 22;
    const mesh = heightMesh((x, y) => 0.002 * x * x - 0.001 * y * y, [-100, 100], [-80, 80], 7, 3, hole);
    const field = createMeshDistanceField(mesh);
    const edges = new Map<string, number>();
    for (let t = 0; t < mesh.triangles.length; t++) {
      const a = mesh.triangles[t];
      const b = mesh.triangles[t % 3 === 2 ? t - 2 : t + 1];
      const key = a < b ? `${a},${b}` : `${b},${a}`;
      edges.set(key, (edges.get(key) ?? 0) + 1);
    }
    const border = [...edges].filter(([, n]) => n === 1).map(([key]) => key.split(',').map(Number));
    const toBorder = (p: Float64Array) =>
      Math.min(
        ...border.map(([a, b]) =>
          segmentDistance(p, mesh.positions.subarray(3 * a, 3 * a + 3), mesh.positions.subarray(3 * b, 3 * b + 3)),
        ),
      );
    const random = mulberry32(13);
    const points = Float64Array.from({ length: 1200 }, (_, k) => (random() - 0.5) * (k % 3 === 2 ? 60 : 260));
    const rows = createFootRows(400);
    field.evaluate(points, 0, 400, 'right', rows, false);
    const seen = [0, 0];
    for (let k = 0; k < 400; k++) {
      const p = points.subarray(3 * k, 3 * k + 3);
      const brute = bruteForce(mesh, p[0], p[1], p[2]);
      const onBorder = toBorder(p) < brute.distance + 1e-9;
      expect(rows.hasData[k]).toBe(onBorder ? 0 : 1);
      seen[rows.hasData[k]]++;
    }
    expect(Math.min(...seen)).toBeGreaterThan(50);
  });

  it('touching points: on a face, an edge and a vertex the distance is 0 and the normal finite and outward', () => {
    const solid = bumpySolid();
    const [a, b, c] = [...solid.triangles.subarray(30, 33)].map((v) => solid.positions.subarray(3 * v, 3 * v + 3));
    const points = Float64Array.from([
      ...a,
      ...[0, 1, 2].map((k) => (a[k] + b[k]) / 2),
      ...[0, 1, 2].map((k) => (a[k] + b[k] + c[k]) / 3),
    ]);
    const rows = createFootRows(3);
    createMeshDistanceField(solid).evaluate(points, 0, 3, 'left', rows, true);
    for (let k = 0; k < 3; k++) {
      expect(Math.abs(rows.distanceMm[k])).toBeLessThan(1e-12);
      const n = rows.normal.subarray(3 * k, 3 * k + 3);
      expect(Math.hypot(...n)).toBeCloseTo(1, 12);
      expect(n[0] * points[3 * k] + n[1] * points[3 * k + 1] + n[2] * points[3 * k + 2]).toBeGreaterThan(20);
      expect(rows.hessian.subarray(6 * k, 6 * k + 6).every((v) => v === 0)).toBe(true);
    }
  });

  it('skips triangles without an area, and answers no data for an empty mesh and for points that are not finite', () => {
    const sheet = heightMesh(() => 0, [-20, 20], [-20, 20], 5, 4);
    const needles = Uint32Array.from([...sheet.triangles, 3, 3, 7, 5, 5, 5]);
    const points = Float64Array.of(1.3, 2.1, 4, Number.NaN, 0, 0, 0, Number.POSITIVE_INFINITY, 0);
    const rows = createFootRows(3);
    createMeshDistanceField({ positions: sheet.positions, triangles: needles }).evaluate(
      points,
      0,
      3,
      'left',
      rows,
      false,
    );
    expect([...rows.hasData]).toEqual([1, 0, 0]);
    expect(rows.distanceMm[0]).toBeCloseTo(4, 12);
    createMeshDistanceField({ positions: new Float64Array(0), triangles: new Uint32Array(0) }).evaluate(
      points,
      0,
      3,
      'left',
      rows,
      false,
    );
    expect([...rows.hasData]).toEqual([0, 0, 0]);
  });

  it('a thousand copies of one triangle do not break the tree', () => {
    const positions = Float64Array.of(0, 0, 0, 10, 0, 0, 0, 10, 0);
    const triangles = Uint32Array.from({ length: 3000 }, (_, k) => k % 3);
    const rows = createFootRows(1);
    createMeshDistanceField({ positions, triangles }).evaluate(Float64Array.of(2, 3, -7), 0, 1, 'left', rows, false);
    expect(rows.distanceMm[0]).toBeCloseTo(-7, 12);
  });
});

function segmentDistance(p: Float64Array, a: Float64Array, b: Float64Array): number {
  const u = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const along = (p[0] - a[0]) * u[0] + (p[1] - a[1]) * u[1] + (p[2] - a[2]) * u[2];
  const t = Math.min(1, Math.max(0, along / (u[0] ** 2 + u[1] ** 2 + u[2] ** 2)));
  return Math.hypot(p[0] - a[0] - t * u[0], p[1] - a[1] - t * u[1], p[2] - a[2] - t * u[2]);
}
