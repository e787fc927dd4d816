import { describe, expect, it } from 'vitest';
import { fitTree } from './fit.ts';
import { fitPatternToBack } from './fit-pattern-to-back.ts';
import { fittedRock, usableBarLength } from './fitted-values.ts';
import { codesOf, demoPatternTree, evenBack, plainBack, plainTree, scenarioSetup } from './scenario.fixture.ts';

const setup = scenarioSetup();

describe('fitting a pattern to a back', () => {
  it('finds the radius and slope that a plain back was made from', () => {
    const back = plainBack({ radiusMm: 1450, slopeDegAt: () => 35 });
    const tree = fitPatternToBack(plainTree({ radiusMm: 2500, frontDeg: 40, rearDeg: 28 }), back, setup);
    expect(1 / tree.right.shape.rockCurvaturePerMm).toBeCloseTo(1450, -0.5);
    for (const s of tree.right.shape.stations) expect((s.slopeRad * 180) / Math.PI).toBeCloseTo(35, 1);
  });

  it('reads the fitted rock off the back alone: the exact arc of a plain back', () => {
    const back = plainBack({ radiusMm: 1200, slopeDegAt: () => 30 });
    const rock = fittedRock(plainTree({ radiusMm: 3000, frontDeg: 30, rearDeg: 30 }), back, -30);
    expect(1 / rock!).toBeCloseTo(1200, 0);
  });

  for (const name of ['dumpling', 'heron', 'tuesday'] as const) {
    it(`leaves no mismatch over the rules on ${name}, whatever pattern it started from`, () => {
      const back = evenBack(name);
      for (const start of ['wren', 'post', 'rail'] as const) {
        const tree = fitPatternToBack(demoPatternTree(start), back, setup, { length: true });
        const { mismatch, findings } = fitTree(tree, back, setup, { detail: 'figures' }).result;
        expect(Math.abs(mismatch.lengthwiseRightMm!)).toBeLessThan(1);
        for (const s of mismatch.stations) expect(Math.abs(s.mismatchDeg)).toBeLessThan(0.5);
        expect(tree.right.shape.lengthMm).toBeCloseTo(usableBarLength(tree, back, setup), 6);
        const shape = ['bridging', 'rocking', 'too-steep', 'too-flat', 'inner-edge-bearing', 'outer-edge-bearing'];
        expect(codesOf(findings).filter((c) => shape.includes(c))).toEqual([]);
      }
    });
  }
});
