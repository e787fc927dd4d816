import { describe, expect, it } from 'vitest';
import type { BackSurface } from '../back/index.ts';
import type { Tree } from '../bar/index.ts';
import { withWiderSpread } from './alter-tree.ts';
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
const RADIANS = Math.PI / 180;
const straight = plainBack({ radiusMm: 1450, slopeDegAt: () => SLOPE });
const bar = (slopeDeg: number) => plainTree({ radiusMm: 1450, frontDeg: slopeDeg, rearDeg: slopeDeg });
const setup = scenarioSetup();
const figures = { detail: 'figures' } as const;

describe('TRADE 8: crosswise scenarios', () => {
  it('8: 6 degrees too steep bears on the outer edge and reads "too steep (narrow)"', () => {
    const { result, seated, laidOn } = fitTree(bar(SLOPE + 6), straight, setup, figures);
    for (const s of result.mismatch.stations) expect(s.mismatchDeg).toBeCloseTo(6, 0);
    const [steep] = findingsOf(result.findings, 'too-steep');
    expect(steep!.side).toBe('both');
    expect(steep!.sentence).toContain('Too steep (narrow)');
    // 120 mm of width, 5 % relieved on each side.
    expect(steep!.sizeMm).toBeCloseTo(108 * Math.sin((6 * Math.PI) / 180), 0);
    expect(findingsOf(result.findings, 'outer-edge-bearing')[0]!.side).toBe('both');
    expect(codesOf(result.findings)).not.toContain('inner-edge-bearing');
    // Laid on, the inner edge is clear. Loaded with 95 kg it is not quite: 11 mm of tilt across the width against some
    // 6 mm of mean squeeze leave up to 1.7 mm of squeeze there, against 11 mm at the outer edge.
    expect(mostSqueeze(laidOn, (t) => t < -0.9)).toBeLessThan(-8);
    expect(mostSqueeze(seated, (t) => t < -0.9)).toBeLessThan(0.25 * mostSqueeze(seated, (t) => t > 0.9));
  });

  it('9: 6 degrees too flat bears on the inner edge, reads "too flat (wide)", and spine clearance falls', () => {
    const matched = fitTree(bar(SLOPE), straight, setup, figures).result;
    const { result } = fitTree(bar(SLOPE - 6), straight, setup, figures);
    expect(findingsOf(result.findings, 'too-flat')[0]!.sentence).toContain('Too flat (wide)');
    expect(codesOf(result.findings)).toContain('inner-edge-bearing');
    expect(codesOf(result.findings)).not.toContain('outer-edge-bearing');
    expect(result.spine.atForkMm!).toBeLessThan(matched.spine.atForkMm!);
    expect(result.spine.alongMm!).toBeLessThan(matched.spine.alongMm!);
    for (const code of ['too-steep', 'too-flat', 'inner-edge-bearing', 'outer-edge-bearing'] as const)
      expect(codesOf(matched.findings)).not.toContain(code);
  });

  describe('10: 20 mm more pad on a narrow tree', () => {
    const back = evenBack('dumpling');
    const tree = demoPatternTree('post');
    const thin = fitTree(tree, back, setup, figures);
    const said = (f: typeof thin): string => findingsOf(f.result.findings, 'too-steep')[0]!.sentence;
    const clearOf = (sentence: string): string => /inner edge stands ([\d.]+) mm clear/.exec(sentence)![1]!;
    const rise = (f: typeof thin, from = thin): number => f.result.pose.heightMm - from.result.pose.heightMm;
    const nose = (f: typeof thin, from = thin): number => f.result.pose.pitchDeg - from.result.pose.pitchDeg;

    it.each([
      ['the same stiffness per mm', padded(40, 2.5)],
      ['a stiff layer more', padded(20, 2.5, BOARD)],
    ])(
      '(a) %s: up by 20 / cos(slope), front first, peak not lower, no more at the inner edge, and no room made',
      (_, thicker) => {
        const thick = fitTree(tree, back, thicker, figures);
        // Where it bears, tree and back do not have one slope: the rise lies between those of the two.
        const over = (slope: (s: Station) => number): number => 20 / Math.cos(meanOf(thin, slope) * RADIANS);
        expect(rise(thick)).toBeGreaterThan(over((s) => s.backSlopeDeg));
        expect(rise(thick)).toBeLessThan(over((s) => s.barSlopeDeg));
        // 0.45 degrees here, not the amendment's 0.7: see the next test for what it goes by.
        expect(nose(thick)).toBeGreaterThan(0.4);
        expect(nose(thick)).toBeLessThan(0.5);
        expect(thick.result.contact.peakPressureKPa).toBeGreaterThan(thin.result.contact.peakPressureKPa);
        // Loaded, some 9 cm2 of the innermost tenth bear before and 5 after: less, not none. Laid on it is clear in both.
        expect(areaWithin(thick, -0.8)).toBeLessThan(areaWithin(thin, -0.8));
        expect(areaWithin(thick, -1 / 3)).toBeLessThan(areaWithin(thin, -1 / 3));
        for (const { laidOn } of [thin, thick]) expect(mostSqueeze(laidOn, (t) => t < -0.9)).toBeLessThan(-8);
        expect(clearOf(said(thick))).toBe(clearOf(said(thin)));
        expect(said(thick)).toContain('padding does not make room');
        expect(said(thin)).not.toContain('padding does not make room');
      },
    );

    it("(a) the amendment's 0.7 degrees is the difference of the two ends' rises over their distance", () => {
      const level = plainBack({ radiusMm: 1450, slopeDegAt: () => SLOPE });
      const twisted = plainBack({ radiusMm: 1450, slopeDegAt: (x) => 37 - (16 * (x - 82)) / 336 });
      const turned = (on: BackSurface, narrow: Tree) =>
        nose(fitTree(narrow, on, padded(40, 2.5), figures), fitTree(narrow, on, setup, figures));
      // One slope from front to rear turns nothing.
      expect(Math.abs(turned(level, bar(SLOPE + 6)))).toBeLessThan(0.01);
      // Front 37 to 43 degrees and rear 21 to 25: from 20 (1 / cos 37 - 1 / cos 21) over 336 mm, 0.62 degrees, to 0.90.
      const ends = (front: number, rear: number): number =>
        1 / Math.cos(front * RADIANS) - 1 / Math.cos(rear * RADIANS);
      const [low, high] = [ends(37, 21), ends(43, 25)].map((d) => Math.atan((20 * d) / 336) / RADIANS);
      const tilt = turned(twisted, plainTree({ radiusMm: 1450, frontDeg: 43, rearDeg: 25 }));
      expect(tilt).toBeGreaterThan(low!);
      expect(tilt).toBeLessThan(high!);
      expect(Math.abs(tilt - 0.7)).toBeLessThan(0.1);
    });

    it('(b) the same material twice as thick is softer: the peak falls, the front still rises more and the text stays', () => {
      const thick = fitTree(tree, back, padded(40, 1.25), figures);
      expect(nose(thick)).toBeGreaterThan(0.05);
      expect(thick.result.contact.peakPressureKPa).toBeLessThan(thin.result.contact.peakPressureKPa);
      expect(said(thick)).toContain('padding does not make room');
    });
  });

  it('11: 24 mm more spread on straight slopes lowers the tree, hardly changes pressures, and is named', () => {
    const narrow = bar(SLOPE);
    const wide = withWiderSpread(narrow, 24);
    const a = fitTree(narrow, straight, setup, figures).result;
    // A rule that the narrower tree just meets, so that the wider one falls short of it.
    const rules = { spineForkMm: a.spine.atForkMm! - 1 };
    const b = fitTree(wide, straight, scenarioSetup({ rules }), { detail: 'findings' }).result;
    const drop = 12 * Math.tan((SLOPE * Math.PI) / 180);
    expect(a.pose.heightMm - b.pose.heightMm).toBeCloseTo(drop, 1);
    expect(b.contact.meanPressureKPa / a.contact.meanPressureKPa).toBeCloseTo(1, 2);
    expect(b.contact.areaCm2 / a.contact.areaCm2).toBeCloseTo(1, 2);
    const low = findingsOf(b.findings, 'low-spine-clearance').find((f) => f.sentence.includes('fork'));
    expect(low!.sizeMm).toBeCloseTo(drop - 1, 1);
    expect(low!.causes[0]!.cause).toBe('spread');
    expect(low!.sentence).toContain('spread changes height and spine clearance');
  });

  it('12: a bar that twists 8 degrees less than the back bears on opposite edges front and rear', () => {
    const slopeDegAt = (x: number): number => 40 - (16 * (x - 82)) / 336;
    const back = plainBack({ radiusMm: 1450, slopeDegAt: (x) => Math.min(45, Math.max(18, slopeDegAt(x))) });
    const tree = plainTree({ radiusMm: 1450, frontDeg: 36, rearDeg: 28 });
    // The front's inner edge takes 49 % of its third, the rear's outer edge 56 %: only the rear is over the usual 50 %.
    const rules = { edgeSharePercent: 45 };
    const { findings } = fitTree(tree, back, scenarioSetup({ rules }), { detail: 'findings' }).result;
    const inner = findingsOf(findings, 'inner-edge-bearing')[0]!;
    const outer = findingsOf(findings, 'outer-edge-bearing')[0]!;
    expect(inner.toMm).toBeLessThan(outer.fromMm + 1);
    expect(findingsOf(findings, 'too-flat')[0]!.causes[0]!.cause).toBe('twist');
    expect(findingsOf(findings, 'too-steep')[0]!.causes[0]!.cause).toBe('twist');
  });
});

/** As good as rigid. */
const BOARD = { name: 'board', thicknessMm: 20, stiffnessKPaPerMm: 10_000 };

function padded(thicknessMm: number, stiffnessKPaPerMm: number, ...more: (typeof BOARD)[]) {
  return scenarioSetup({
    layers: [
      { name: 'soft tissue', thicknessMm: 0, stiffnessKPaPerMm: 3 },
      { name: 'pad', thicknessMm, stiffnessKPaPerMm },
      ...more,
    ],
  });
}

type Fitted = ReturnType<typeof fitTree>;
type Station = Fitted['result']['mismatch']['stations'][number];

function meanOf({ result }: Fitted, slopeDeg: (station: Station) => number): number {
  const { stations } = result.mismatch;
  return stations.reduce((sum, station) => sum + slopeDeg(station), 0) / stations.length;
}

type Seated = Fitted['seated'];

/** Greatest squeeze over a part of the width, both bars, mm; negative where all of it is clear. */
function mostSqueeze({ samples, seat, stack }: Seated, within: (t: number) => boolean): number {
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < samples.count; i++) {
    if (within(samples.t[i]!) && seat.mask[i] === 1)
      most = Math.max(most, stack.thicknessMm - seat.rows.distanceMm[i]!);
  }
  return most;
}

/** Contact area of what lies further in than t of the half width, -1 the inner edge; cm2. */
function areaWithin({ seated }: Fitted, t: number): number {
  let area = 0;
  for (let i = 0; i < seated.samples.count; i++) {
    if (seated.samples.t[i]! < t && seated.seat.pressureMPa[i]! > 0) area += seated.samples.areaMm2[i]! / 100;
  }
  return area;
}
