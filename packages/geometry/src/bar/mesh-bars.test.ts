import { describe, expect, it } from 'vitest';
import type { TriangleMesh } from '../surface/index.ts';
import { demoShape, plainShape } from './demo-shapes.fixture.ts';
import { demoTree, treeOf } from './demo-tree.fixture.ts';
import { meshOfBars } from './mesh-bars.ts';
import { thicknessAt } from './thickness.ts';
import type { Underside } from './underside.ts';

/** How often each edge is run through each way. */
function countHalfEdges({ triangles }: TriangleMesh): Map<string, number> {
  const counts = new Map<string, number>();
  for (let i = 0; i < triangles.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const key = `${triangles[i + k]}>${triangles[i + ((k + 1) % 3)]}`;
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
  }
  return counts;
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

/** Plan area times vertical thickness, by the midpoint rule over stations. */
function planVolume(bar: Underside): number {
  const n = 4000;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const row = bar.row(((i + 0.5) * bar.shape.lengthMm) / n);
    sum += (2 * row.outlineHalfWidthY * thicknessAt(bar, row.bMm)) / Math.cos(row.slopeRad);
  }
  return (sum * bar.shape.lengthMm) / n;
}

describe.each(['wren', 'post', 'rail'] as const)('meshOfBars of %s', (name) => {
  const tree = demoTree(name);
  const { left, right } = meshOfBars(tree);

  it('is closed and wound one way: each edge is run through once each way', () => {
    for (const mesh of [left, right]) {
      const counts = countHalfEdges(mesh);
      expect(counts.size).toBe(mesh.triangles.length);
      for (const [key, count] of counts) {
        if (count !== 1) expect.unreachable(`${key} is run through ${count} times`);
        const [a, b] = key.split('>');
        if (counts.get(`${b}>${a}`) !== 1) expect.unreachable(`${key} has no partner`);
      }
    }
  });

  it('is one piece without handles: vertices - edges + faces = 2, every vertex used', () => {
    const faces = right.triangles.length / 3;
    expect(right.positions.length / 3 - 1.5 * faces + faces).toBe(2);
    expect(new Set(right.triangles).size).toBe(right.positions.length / 3);
  });

  it('is wound outward: its volume is + plan area times vertical thickness, left as right', () => {
    expect(volume(right) / planVolume(tree.right)).toBeCloseTo(1, 3);
    expect(volume(left)).toBeCloseTo(volume(right), 3);
  });

  it('has no face without area', () => {
    const { positions: p, triangles: t } = right;
    for (let i = 0; i < t.length; i += 3) {
      const [a, b, c] = [3 * t[i], 3 * t[i + 1], 3 * t[i + 2]];
      const u = [0, 1, 2].map((k) => p[b + k] - p[a + k]);
      const v = [0, 1, 2].map((k) => p[c + k] - p[a + k]);
      const area = Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2;
      if (!(area > 1e-7)) expect.unreachable(`face ${i / 3} has area ${area}`);
    }
    expect(t.length).toBeGreaterThan(10_000);
  });
});

describe('meshOfBars', () => {
  it('a flat straight board is a box: width x length x thickness', () => {
    const shape = plainShape({ slopeRad: 0, widthMm: 120, lengthMm: 500, thicknessMm: 20 });
    expect(volume(meshOfBars(treeOf(shape)).right)).toBeCloseTo(120 * 500 * 20, 4);
  });

  it('a flat board with tips that taper holds what the trapezia of its sides hold', () => {
    const shape = plainShape({ slopeRad: 0, widthMm: 120, lengthMm: 500, thicknessMm: 20 });
    const tips = { tipThicknessMm: 12, tipEdgeThicknessMm: 5, tipLengthFrontMm: 100, tipLengthRearMm: 80 };
    const got = volume(meshOfBars(treeOf({ ...shape, ...tips })).right);
    // The two steps of 8 mm are ramps 0.05 mm long inside the tips.
    expect(got).toBeCloseTo(120 * (320 * 20 + 180 * 8.5 + 2 * 0.05 * 4), 4);
  });

  it('is cut off square where rounded corners meet before the tip edge, and stays closed', () => {
    const shape = { ...demoShape('post'), tipRoundMm: 80 };
    const { right } = meshOfBars(treeOf(shape));
    const counts = countHalfEdges(right);
    expect([...counts.keys()].every((key) => counts.get(key.split('>').reverse().join('>')) === 1)).toBe(true);
    const x = right.positions.filter((_, i) => i % 3 === 0);
    expect(x.reduce((a, b) => Math.min(a, b))).toBeGreaterThan(-280);
    expect(volume(right)).toBeGreaterThan(1e6);
  });
});
