import { describe, expect, it } from 'vitest';
import { bearingEnds } from '../seating/index.ts';
import { withLength, withRock } from './alter-tree.ts';
import { compareFits } from './compare-fits.ts';
import { fitTree } from './fit.ts';
import {
  codesOf,
  demoPatternTree,
  evenBack,
  findingsOf,
  plainBack,
  plainTree,
  scenarioSetup,
} from './scenario.fixture.ts';

const SLOPE = 35;
const straight = plainBack({ radiusMm: 1450, slopeDegAt: () => SLOPE });
const bar = (radiusMm: number) => plainTree({ radiusMm, frontDeg: SLOPE, rearDeg: SLOPE });
const setup = scenarioSetup();
const figures = { detail: 'figures' } as const;

describe('TRADE 8: lengthwise scenarios', () => {
  it('2: a bar of R 1000 on a back of R 1450 rocks and is not called bridging', () => {
    const { result, laidOn } = fitTree(bar(1000), straight, setup, figures);
    expect(codesOf(result.findings)).toContain('rocking');
    expect(codesOf(result.findings)).not.toContain('bridging');
    let bearingB = 0;
    let force = 0;
    for (let i = 0; i < laidOn.samples.count; i++) {
      const f = laidOn.seat.pressureMPa[i]! * laidOn.samples.areaMm2[i]!;
      force += f;
      bearingB += f * laidOn.samples.bMm[i]!;
      if (laidOn.samples.bMm[i]! < 70 || laidOn.samples.bMm[i]! > 490) expect(f).toBe(0);
    }
    // The saddle alone stands at 47 % of the bar, so it bears about there.
    expect(bearingB / force / 560).toBeCloseTo(0.47, 1);
  });

  it('3: a bar of R 2500 bridges by the difference of the sags, x cos(slope) for a distance', () => {
    const matched = fitTree(bar(1450), straight, setup, figures).result;
    const { result } = fitTree(bar(2500), straight, setup, figures);
    expect(codesOf(result.findings)).toContain('bridging');
    expect(codesOf(matched.findings)).not.toContain('bridging');
    expect(result.contact.shareMiddle).toBeLessThan(matched.contact.shareMiddle);
    const half = 420 / 2;
    const sag = (r: number): number => r - Math.sqrt(r * r - half * half);
    const expected = (sag(1450) - sag(2500)) * Math.cos((SLOPE * Math.PI) / 180);
    expect(result.mismatch.lengthwiseRightMm! / expected).toBeGreaterThan(0.95);
    expect(result.mismatch.lengthwiseRightMm! / expected).toBeLessThan(1.05);
  });

  it('4: area up and mean down while the 95th percentile rises is said and not ranked', () => {
    const back = evenBack('tuesday');
    const before = fitTree(demoPatternTree('post', { rockRadius: 1450 }), back, setup, figures).result;
    const after = fitTree(demoPatternTree('post', { rockRadius: 2500 }), back, setup, figures).result;
    // 1323 -> 1359 cm2, 8.66 -> 8.54 kPa mean, 13.8 -> 15.5 kPa at the 95th percentile, middle third 33 -> 21 %.
    const [said] = compareFits(before, after);
    expect(said).toMatch(/^Contact area rises .* the mean falls .* but the 95th percentile rises /);
    expect(after.contact.shareMiddle).toBeLessThan(before.contact.shareMiddle - 0.1);
    expect(codesOf(after.findings)).toContain('bridging');
    expect(compareFits(before, after).join(' ')).not.toMatch(/better|best/);
  });

  it('4: the sentence about area and mean comes from the figures alone', () => {
    const fit = fitTree(demoPatternTree('post'), evenBack('tuesday'), setup, figures).result;
    const c = fit.contact;
    const larger = {
      ...fit,
      contact: {
        ...c,
        areaCm2: c.areaCm2 * 1.05,
        meanPressureKPa: c.meanPressureKPa * 0.95,
        p95PressureKPa: c.p95PressureKPa * 1.2,
      },
    };
    expect(compareFits(fit, larger)[0]).toContain('more area is not a closer fit here');
    expect(compareFits(fit, { ...larger, contact: { ...larger.contact, p95PressureKPa: c.p95PressureKPa } })).toEqual(
      [],
    );
  });

  it('5: Wren on Dumpling made 630 mm at R 1150 does not bridge, but bears past the last rib', () => {
    const back = evenBack('dumpling');
    const short = fitTree(demoPatternTree('wren'), back, setup, figures).result;
    const { result } = fitTree(demoPatternTree('wren', { length: 630 }), back, setup, figures);
    expect(codesOf(result.findings)).not.toContain('bridging');
    const [past] = findingsOf(result.findings, 'past-last-rib');
    const before = findingsOf(short.findings, 'past-last-rib')[0]?.sizeMm ?? 0;
    expect(past!.sizeMm).toBeGreaterThan(before + 80);
    expect(past!.sentence).toMatch(/passes the last rib by \d+ mm/);
    expect(past!.fromMm).toBeCloseTo(430, 6);
    expect(past!.toMm - past!.fromMm).toBeCloseTo(past!.sizeMm, 6);
  });

  it('6: at R 1750 bridging appears and grows about as the square of the bearing length', () => {
    const back = evenBack('dumpling');
    const wren = withRock(demoPatternTree('wren'), 1 / 1750);
    const sizes = [500, 565, 630].map((length) => {
      const tree = withLength(wren, length);
      const { fromMm, toMm } = bearingEnds(tree);
      const { result } = fitTree(tree, back, setup, figures);
      return { size: result.mismatch.lengthwiseRightMm!, chord: toMm - fromMm, codes: codesOf(result.findings) };
    });
    for (const s of sizes) expect(s.codes).toContain('bridging');
    const [a, b, c] = sizes as [(typeof sizes)[0], (typeof sizes)[0], (typeof sizes)[0]];
    expect(b.size).toBeGreaterThan(a.size);
    expect(c.size).toBeGreaterThan(b.size);
    const power = Math.log(c.size / a.size) / Math.log(c.chord / a.chord);
    expect(power).toBeGreaterThan(1.5);
    expect(power).toBeLessThan(2.5);
  });

  it('7: Rail on Dumpling names length, rock and slope, each by itself', () => {
    const { findings } = fitTree(demoPatternTree('rail'), evenBack('dumpling'), setup, { detail: 'findings' }).result;
    const [bridging] = findingsOf(findings, 'bridging');
    const byName = new Map(bridging!.causes.map((c) => [c.cause, c]));
    expect(byName.has('rock') && byName.has('length')).toBe(true);
    expect(bridging!.causes[0]!.cause).toBe('rock');
    expect(byName.get('length')!.sizeWithoutMm).toBeLessThan(bridging!.sizeMm - 1);
    const [steep] = findingsOf(findings, 'too-steep');
    expect(steep!.causes[0]!.names[0]).toBe('slope front');
    const text = findings.map((f) => f.sentence).join('\n');
    expect(text).toContain("the bar's rock is flatter than this back");
    expect(text).toContain("the bars are longer than this back's usable length");
    expect(text).toContain('the front slopes differ from this back');
  });

  it("newcomer's minute: Wren at 630 mm and R 1750 on Dumpling bridges because of its rock, not its length", () => {
    const tree = demoPatternTree('wren', { length: 630, rockRadius: 1750 });
    const { findings } = fitTree(tree, evenBack('dumpling'), setup, { detail: 'findings' }).result;
    expect(findings[0]!.code).toBe('bridging');
    const [rock, length] = findings[0]!.causes;
    expect(rock!.cause).toBe('rock');
    expect(Math.abs(rock!.sizeWithoutMm)).toBeLessThan(0.15 * rock!.sizeMm);
    expect(length!.cause).toBe('length');
    expect(length!.sizeWithoutMm).toBeGreaterThan(0.4 * length!.sizeMm);
    expect(findings[0]!.sentence).toMatch(/mostly because the bar's rock is flatter than this back/);
  });
});
