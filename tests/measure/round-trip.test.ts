import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  buildTree,
  measureBarMesh,
  measureTree,
  meshOfBars,
  readMesh,
  readPattern,
  resolvePattern,
  type TriangleMesh,
  writePly,
  writeStl,
} from '@barwright/geometry';
import { describe, expect, it } from 'vitest';
import { beyond, compareWithExact, compareWithPattern, ROUND_TRIP, type Worst } from './compare-bars.ts';

const EXAMPLES = join(import.meta.dirname, '../../examples');
const NAMES = ['wren', 'post', 'rail', 'post-16', 'post-18', 'post-layered', 'wren-630-r1150', 'wren-630-r1750'];
/** Fine enough that facets cost less than the tolerances of DESIGN 2. */
const FINE = { alongMm: 2, acrossMm: 1.5 };

const load = (name: string) =>
  resolvePattern(readPattern(JSON.parse(readFileSync(join(EXAMPLES, `${name}.pattern.json`), 'utf8'))));

const both = ({ left, right }: { left: TriangleMesh; right: TriangleMesh }): TriangleMesh => ({
  positions: Float64Array.from([...left.positions, ...right.positions]),
  triangles: Uint32Array.from([...left.triangles, ...right.triangles.map((v) => v + left.positions.length / 3)]),
});

describe.each(NAMES)('%s, measured', (name) => {
  const pattern = load(name);
  const exact = measureTree(buildTree(pattern));

  it('from its exact undersides gives back the numbers it was written with', () => {
    const worst: Worst = new Map();
    compareWithPattern(exact.right!, pattern.right, worst);
    compareWithPattern(exact.left!, pattern.left, worst);
    expect(Math.max(...worst.values())).toBeLessThan(1e-8);
    expect(worst.size).toBeGreaterThan(10);
    const [front, , rear] = exact.pairs;
    const [f, , r] = pattern.right.stations;
    expect(front.includedAngleDeg).toBeCloseTo(180 - (360 * f.slopeRad) / Math.PI, 9);
    expect(front.spreadMm).toBeCloseTo(f.spreadMm, 9);
    expect(exact.right!.twistDeg).toBeCloseTo((180 / Math.PI) * (f.slopeRad - r.slopeRad), 9);
    expect(rear.name).toBe('rear');
  });

  it('as a mesh comes back within 0.05 mm and 0.02 degrees', () => {
    expectRoundTrip(name, (mesh) => mesh);
  });
});

describe.each(['wren', 'post', 'rail', 'post-18'])('%s, written to a file and read again', (name) => {
  it.each([
    ['STL', (mesh: TriangleMesh) => readMesh(writeStl(mesh), 'bars.stl').mesh],
    ['PLY', (mesh: TriangleMesh) => readMesh(writePly(mesh), 'bars.ply').mesh],
  ])('comes back through %s within 0.05 mm and 0.02 degrees', (_, carry) => {
    expectRoundTrip(name, carry);
  });
});

function expectRoundTrip(name: string, carry: (mesh: TriangleMesh) => TriangleMesh): void {
  const pattern = load(name);
  const tree = buildTree(pattern);
  const exact = measureTree(tree);
  const measured = measureBarMesh(carry(both(meshOfBars(tree, FINE))));
  const worst: Worst = new Map();
  compareWithPattern(measured.right!, pattern.right, worst);
  compareWithPattern(measured.left!, pattern.left, worst);
  compareWithExact(measured.right!, exact.right!, pattern.right, worst);
  expect(beyond(worst, ROUND_TRIP)).toEqual([]);
  for (const [k, at] of [20, 50, 80].entries()) {
    const pair = measured.pairs.find((p) => p.name === `${at} %`)!;
    expect(Math.abs(pair.includedAngleDeg - exact.pairs[k].includedAngleDeg)).toBeLessThan(0.02);
    expect(Math.abs(pair.spreadMm - exact.pairs[k].spreadMm)).toBeLessThan(0.05);
  }
}

describe('facets', () => {
  it('cost less the finer they are: widths of Post between its stations, 16, 8, 4 and 2 mm rows', () => {
    const tree = buildTree(load('post'));
    const stations = [150, 210, 250, 310, 350, 410].map((bMm) => ({ name: `${bMm} mm`, bMm: bMm + 0.7 }));
    const exact = measureTree(tree, { stations }).right!.stations;
    const error = (alongMm: number): number => {
      const mesh = meshOfBars(tree, { ...FINE, alongMm }).right;
      const got = measureBarMesh(mesh, { stations }).right!.stations;
      return Math.max(...got.map((s, i) => Math.abs(s.widthMm - exact[i].widthMm)));
    };
    const errors = [16, 8, 4, 2].map(error);
    // The outline is cut by chords between rows, so the error falls with their square: 64 in all, at least 20 wherever rows fall.
    expect(errors[3]).toBeGreaterThan(0);
    expect(errors[0] / errors[3]).toBeGreaterThan(20);
    for (let k = 1; k < errors.length; k++) expect(errors[k]).toBeLessThan(errors[k - 1]);
  });
});
