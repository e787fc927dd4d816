import { describe, expect, it } from 'vitest';
import { demoShape, plainShape } from './demo-shapes.fixture.ts';
import { demoTree } from './demo-tree.fixture.ts';
import { createUnderside, footOf, pliesAt, thicknessAt } from './index.ts';

const layered = createUnderside({
  ...demoShape('post'),
  tipThicknessMm: 12,
  tipEdgeThicknessMm: 5,
  lowerShare: 0.4,
});

describe('thickness along the bar', () => {
  it('tapers evenly from root to edge in each tip and is the stations between them', () => {
    expect(thicknessAt(layered, 0)).toBe(5);
    expect(thicknessAt(layered, 37.5)).toBeCloseTo(8.5, 12);
    expect(thicknessAt(layered, 75 - 1e-9)).toBeCloseTo(12, 8);
    expect(thicknessAt(layered, 75)).toBe(22);
    expect(thicknessAt(layered, 560 - 65)).toBe(22);
    expect(thicknessAt(layered, 560 - 65 + 13)).toBeCloseTo(12 - 7 / 5, 12);
    expect(thicknessAt(layered, 560)).toBe(5);
  });

  it('stays at the edge value beyond the edges, and a bar without tips is its stations to the end', () => {
    expect([thicknessAt(layered, -3), thicknessAt(layered, 570)]).toEqual([5, 5]);
    const tipless = createUnderside(plainShape({ thicknessMm: 20 }));
    expect([0, 250, 500].map((b) => thicknessAt(tipless, b))).toEqual([20, 20, 20]);
  });
});

describe('plies', () => {
  it('the lower layer takes its share everywhere; above it the tip or the bar', () => {
    expect(pliesAt(layered, 37.5)).toEqual([
      { material: 'lower', fromMm: 0, toMm: 0.4 * 8.5 },
      { material: 'tip', fromMm: 0.4 * 8.5, toMm: 8.5 },
    ]);
    const [lower, upper] = pliesAt(layered, 280);
    expect([lower!.material, upper!.material]).toEqual(['lower', 'bar']);
    expect(lower!.toMm).toBeCloseTo(8.8, 12);
    expect(upper!.toMm).toBe(22);
  });

  it('a bar of one piece has one ply', () => {
    const plain = createUnderside(demoShape('post'));
    expect(pliesAt(plain, 280)).toEqual([{ material: 'bar', fromMm: 0, toMm: 22 }]);
    expect(pliesAt(plain, 10)).toEqual([{ material: 'tip', fromMm: 0, toMm: 8 }]);
  });
});

describe('feet', () => {
  const { parts } = demoTree('post');
  it('are taken in order and never shorter than 10 mm', () => {
    expect(footOf(parts, 'fork')).toEqual([80, 140]);
    expect(footOf(parts, 'cantle')).toEqual([440, 470]);
    expect(footOf({ ...parts, cantleFootFromMm: 470, cantleFootToMm: 430 }, 'cantle')).toEqual([430, 470]);
    expect(footOf({ ...parts, forkFootFromMm: 90, forkFootToMm: 93 }, 'fork')).toEqual([90, 100]);
  });
});
