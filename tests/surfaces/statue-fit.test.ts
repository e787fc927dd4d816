import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  type BackSurface,
  buildBack,
  buildTree,
  parseJson,
  readBack,
  readMesh,
  resolvePattern,
  type SeatedTree,
  seatTree,
  setPatternValue,
  setupSchema,
  type TriangleMesh,
  transformPoint,
} from '@barwright/geometry';
import { beforeAll, describe, expect, it } from 'vitest';
import { examplePattern } from '../support/examples.ts';

/**
 * A scan modelled by others, when a folder with it is named (Poly Haven "Horse Statue 01", CC0; landmarks by eye).
 * The bar is cut to the scan's own length: the shortest demo bar is longer than this patch of back.
 */
const folder = process.env.BARWRIGHT_EXTRA_SURFACES;
const here = folder !== undefined && existsSync(join(folder, 'statue_landmarks.json'));
if (!here) console.warn('statue-fit: skipped, BARWRIGHT_EXTRA_SURFACES names no folder with statue_landmarks.json');

describe.runIf(here).each(['statue_back.ply', 'statue_back_flatter.ply'])('a bar of 440 mm on %s', (file) => {
  let mesh: TriangleMesh;
  let back: BackSurface;
  let seated: SeatedTree;

  beforeAll(() => {
    mesh = readMesh(readFileSync(join(folder!, file)), file).mesh;
    back = buildBack(statueDocument(file), { mesh });
    const tree = buildTree(resolvePattern(setPatternValue(examplePattern('wren'), 'length', 440)));
    seated = seatTree(tree, back, setupSchema.parse({ setPositionMm: 20 }));
  });

  it('settles with every cell on data, in balance', () => {
    expect(seated.status).toBe('settled');
    expect(seated.seat.relativeResidual).toBeLessThan(1e-6);
    expect(Array.from(seated.seat.mask)).not.toContain(0);
  });

  it('finds the distances of a brute-force search over all triangles, within the stated bound', () => {
    const bound = back.fastAccuracy.boundMm;
    const horse = horseTriangles(mesh, back.fileToHorse);
    let worst = 0;
    for (let i = 3; i < seated.samples.count; i += 97) {
      const p = seated.seat.placedMm.subarray(3 * i, 3 * i + 3);
      worst = Math.max(worst, Math.abs(Math.abs(seated.seat.rows.distanceMm[i]!) - nearestTo(horse, p)));
    }
    expect(bound).toBeLessThan(1.5);
    expect(worst).toBeLessThan(bound);
  });
});

function statueDocument(file: string) {
  const text = readFileSync(join(folder!, 'statue_landmarks.json'));
  const { landmarks } = parseJson(text) as { landmarks: Record<string, number[]> };
  return readBack({
    schema: 'barwright/back/1',
    kind: 'scan',
    name: 'statue',
    mesh: file,
    unit: 'mm',
    axes: { tail: '-x', right: '-y', up: '+z' },
    landmarks: {
      bladeEdgeLeft: landmarks.scapula_rear_left,
      bladeEdgeRight: landmarks.scapula_rear_right,
      withersTop: landmarks.withers_top,
      lowPoint: landmarks.back_lowest,
      lastRib: landmarks.last_rib_topline,
    },
    measured: { by: 'by eye', on: '2026-01-01', uncertaintyMm: 30, uncertaintyDeg: 5 },
  });
}

function horseTriangles(mesh: TriangleMesh, fileToHorse: readonly number[]): Float64Array {
  const out = new Float64Array(3 * mesh.triangles.length);
  mesh.triangles.forEach((v, k) => {
    const p = mesh.positions;
    out.set(transformPoint(fileToHorse, p[3 * v]!, p[3 * v + 1]!, p[3 * v + 2]!), 3 * k);
  });
  return out;
}

function nearestTo(triangles: Float64Array, p: Float64Array): number {
  let best = Number.POSITIVE_INFINITY;
  for (let k = 0; k < triangles.length; k += 9) best = Math.min(best, squaredTo(triangles.subarray(k, k + 9), p));
  return Math.sqrt(best);
}

/** Squared distance to one triangle: the foot on its plane when inside, else the nearest of its three edges. */
function squaredTo(t: Float64Array, p: Float64Array): number {
  const at = (i: number): number[] => [t[3 * i]!, t[3 * i + 1]!, t[3 * i + 2]!];
  const [a, b, c] = [at(0), at(1), at(2)];
  const n = cross(minus(b, a), minus(c, a));
  const q = Array.from(p);
  const inside = [
    [a, b],
    [b, c],
    [c, a],
  ].every(([u, v]) => dot(cross(minus(v!, u!), minus(q, u!)), n) >= 0);
  if (inside) return dot(minus(q, a), n) ** 2 / dot(n, n);
  return Math.min(toSegment(q, a, b), toSegment(q, b, c), toSegment(q, c, a));
}

function toSegment(q: number[], a: number[], b: number[]): number {
  const along = minus(b, a);
  const share = Math.min(1, Math.max(0, dot(minus(q, a), along) / dot(along, along)));
  const off = minus(
    q,
    [0, 1, 2].map((k) => a[k]! + share * along[k]!),
  );
  return dot(off, off);
}

const minus = (a: number[], b: number[]): number[] => [a[0]! - b[0]!, a[1]! - b[1]!, a[2]! - b[2]!];
const dot = (a: number[], b: number[]): number => a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]!;
const cross = (a: number[], b: number[]): number[] => [
  a[1]! * b[2]! - a[2]! * b[1]!,
  a[2]! * b[0]! - a[0]! * b[2]!,
  a[0]! * b[1]! - a[1]! * b[0]!,
];
