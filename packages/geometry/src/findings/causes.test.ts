import { describe, expect, it } from 'vitest';
import { withRock, withSlopes } from './alter-tree.ts';
import { fitTree } from './fit.ts';
import { findingsOf, plainBack, plainTree, scenarioSetup } from './scenario.fixture.ts';

const back = plainBack({ radiusMm: 1450, slopeDegAt: () => 35 });
const matched = plainTree({ radiusMm: 1450, frontDeg: 35, rearDeg: 35 });
const setup = scenarioSetup();
const DEGREE = Math.PI / 180;
const find = (tree: typeof matched) => fitTree(tree, back, setup, { detail: 'findings' }).result.findings;

describe('causes on a plain back', () => {
  it('of a flat rock: rock takes it all away, and the re-run is real', () => {
    const tree = withRock(matched, 1 / 2500);
    const [bridging] = findingsOf(find(tree), 'bridging');
    const [first] = bridging!.causes;
    expect(first!.names).toEqual(['rock']);
    expect(first!.sizeWithoutMm).toBeCloseTo(0, 0);
    const rerun = fitTree(matched, back, setup, { detail: 'figures' }).result.mismatch.lengthwiseRightMm!;
    expect(first!.sizeWithoutMm).toBeCloseTo(rerun, 1);
  });

  it('that act together are named together: both ends too steep', () => {
    const findings = find(withSlopes(matched, 8 * DEGREE, 8 * DEGREE));
    const [steep] = findingsOf(findings, 'too-steep');
    const pair = steep!.causes.find((c) => c.names.length === 2);
    expect(pair!.cause).toBe('slope front + slope rear');
    expect(steep!.causes[0]).toBe(pair);
    expect(Math.abs(pair!.sizeWithoutMm)).toBeLessThan(0.1 * pair!.sizeMm);
    for (const c of steep!.causes.slice(1)) expect(c.sizeWithoutMm).toBeGreaterThan(0.4 * c.sizeMm);
  });

  it("do not include values that are already the back's own", () => {
    const findings = find(withRock(matched, 1 / 2500));
    const names = new Set(findings.flatMap((f) => f.causes.flatMap((c) => c.names)));
    for (const name of [
      'slope front',
      'slope rear',
      'twist',
      'spread',
      'asymmetry',
      'layers',
      'load position',
      'set position',
    ])
      expect(names.has(name as never)).toBe(false);
  });

  it('tell a slope at one end from a twist by what is left of all findings', () => {
    const front = findingsOf(find(withSlopes(matched, 8 * DEGREE, 0)), 'too-steep')[0]!;
    expect(front.causes[0]!.names).toEqual(['slope front']);
    const twisted = find(withSlopes(matched, 6 * DEGREE, -6 * DEGREE));
    expect(findingsOf(twisted, 'too-steep')[0]!.causes[0]!.names).toEqual(['twist']);
    expect(findingsOf(twisted, 'too-flat')[0]!.causes[0]!.names).toEqual(['twist']);
  });
});
