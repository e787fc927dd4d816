import { describe, expect, it } from 'vitest';
import { demoShape, plainShape } from './demo-shapes.fixture.ts';
import { demoTree, treeOf } from './demo-tree.fixture.ts';
import { MEASURE_DEFINITIONS } from './measure-definitions.ts';
import { measureTree } from './measure-tree.ts';

const DEG = 180 / Math.PI;

/** Names of all properties that hold a number or null, at any depth. */
function figureNames(value: unknown, key = ''): string[] {
  if (typeof value === 'number' || value === null) return [key];
  if (Array.isArray(value)) return value.flatMap((v) => figureNames(v, key));
  if (typeof value !== 'object') return [];
  return Object.entries(value as object).flatMap(([k, v]) => figureNames(v, k));
}

describe('measureTree', () => {
  it('names a definition for every figure it gives, each with an id and one sentence', () => {
    const { left, right, pairs, definitions } = measureTree(demoTree('post'));
    const names = new Set(figureNames([left, right, pairs]));
    expect(names.size).toBeGreaterThan(25);
    expect([...names].filter((name) => !(name in definitions))).toEqual([]);
    expect(Object.keys(definitions).filter((name) => !names.has(name))).toEqual([]);
    for (const { id, sentence } of Object.values(MEASURE_DEFINITIONS)) {
      expect(id).toMatch(/^[a-z0-9.-]+$/);
      expect(sentence).toMatch(/^\S.*\.$/);
    }
  });

  it('measures the stations of the pattern, the hand hole and every 50 mm, or those it is given', () => {
    const names = measureTree(demoTree('wren')).right!.stations.map((s) => s.name);
    expect(names.slice(0, 6)).toEqual(['front', 'waist', 'rear', 'hand hole', '50 mm', '100 mm']);
    expect(names.at(-1)).toBe('450 mm');
    const own = measureTree(demoTree('wren'), { stations: [{ name: 'here', bMm: 123.4 }] });
    expect(own.pairs.map((p) => [p.name, p.bMm])).toEqual([['here', 123.4]]);
  });

  it('gives included angle and spread of two different bars from both of them', () => {
    const tree = treeOf(
      plainShape({ slopeRad: 41 / DEG, spreadMm: 150 }),
      plainShape({ slopeRad: 38 / DEG, spreadMm: 130 }),
    );
    const { pairs, left, right } = measureTree(tree, { stations: [{ name: 'pad', bMm: 100 }] });
    expect(pairs[0].includedAngleDeg).toBeCloseTo(180 - 41 - 38, 10);
    expect(pairs[0].spreadMm).toBeCloseTo(75 + 65, 10);
    expect([left!.stations[0].slopeDeg, right!.stations[0].slopeDeg].map((v) => v.toFixed(9))).toEqual([
      '41.000000000',
      '38.000000000',
    ]);
  });

  it('measures rock over a chord that is given: the sagitta of R over it', () => {
    const { right } = measureTree(demoTree('post'), { rockChord: { fromMm: 180, toMm: 380 } });
    const [bearing] = right!.rock;
    expect(bearing.chordMm).toBeCloseTo(200, 9);
    expect(bearing.sagMm).toBeCloseTo(1450 - Math.sqrt(1450 ** 2 - 100 ** 2), 9);
    expect(bearing.radiusMm).toBeCloseTo(1450, 6);
  });

  it('finds no rock, no low point and no flare where there is none', () => {
    const { right } = measureTree(treeOf(plainShape()));
    expect(right!.rock.map((line) => line.radiusMm)).toEqual([null, null, null, null]);
    expect(right!.lowPointMm).toBeNull();
    expect(right!.flareFront).toEqual({ flareLiftMm: expect.closeTo(0, 10), flareZoneMm: 0, flareZoneFromStartMm: 0 });
    expect(right!.bearingLengthMm).toBe(500);
  });

  it('gives the three lines of a twisted bar different rocks, and those of a straight bar the same', () => {
    const radii = (tree: ReturnType<typeof treeOf>) => measureTree(tree).right!.rock.map((line) => line.radiusMm!);
    const straight = radii(treeOf(plainShape({ rockCurvaturePerMm: 1 / 1200 })));
    for (const radius of straight) expect(radius).toBeCloseTo(1200, 5);
    const twisted = radii(demoTree('post'));
    expect(new Set(twisted.map((radius) => Math.round(radius / 100))).size).toBe(4);
  });

  it('the relief chord is flatter than the edge chord, by less than half a degree on the demo bars', () => {
    for (const name of ['wren', 'post', 'rail'] as const) {
      for (const s of measureTree(treeOf(demoShape(name))).right!.stations.slice(0, 3)) {
        expect(s.slopeDeg - s.reliefChordSlopeDeg).toBeGreaterThan(0.02);
        expect(s.slopeDeg - s.reliefChordSlopeDeg).toBeLessThan(0.5);
      }
    }
  });
});
