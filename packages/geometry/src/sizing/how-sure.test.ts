import { describe, expect, test } from 'vitest';
import { type BackSurface, buildSectionsBack } from '../back/index.ts';
import { observeAll } from '../findings/index.ts';
import { demoDocument, demoPatternTree } from '../findings/scenario.fixture.ts';
import { seededRandom } from '../numeric/index.ts';
import { SETUP_DEFAULTS, type Setup } from '../seating/index.ts';
import { type HowSure, type HowSureOptions, howSure } from './how-sure.ts';
import { BAND_SOURCES, quantile } from './how-sure-bands.ts';
import type { BandFigure } from './how-sure-figures.ts';
import { drawError } from './measuring-error.ts';
import { furthest, LEAST_RATIO, ruleRatios } from './reach-ratio.ts';
import { readAgainst } from './tree-against-read.ts';

const post = demoPatternTree('post');
const tuesday = buildSectionsBack(demoDocument('tuesday'));

const measuredTo = (back: BackSurface, uncertaintyMm: number, uncertaintyDeg: number): BackSurface =>
  Object.create(back, { measured: { value: { ...back.measured, uncertaintyMm, uncertaintyDeg } } }) as BackSurface;

const setTo = (setPositionBandMm: number): Setup => ({
  ...SETUP_DEFAULTS,
  rules: { ...SETUP_DEFAULTS.rules, setPositionBandMm },
});

function sure(back: BackSurface, setup: Setup, options: HowSureOptions = {}, tree = post): HowSure {
  const run = howSure(tree, back, setup, { draws: 60, samples: 400, ...options });
  let step = run.next();
  while (!step.done) step = run.next();
  return step.value;
}

const widthsOf = ({ bands }: HowSure): Record<string, number> =>
  Object.fromEntries(Object.entries(bands).map(([name, band]) => [name, band.high - band.low]));

describe('bands', () => {
  test('without error and with a marked set position they have no width', () => {
    const widths = widthsOf(sure(measuredTo(tuesday, 0, 0), setTo(0), { draws: 25 }));
    expect(Object.keys(widths)).toHaveLength(14);
    for (const [name, width] of Object.entries(widths)) expect(width, name).toBeLessThan(1e-3);
  });

  test('they grow with the uncertainty, and with the room for the set position', () => {
    const [one, two, four] = [1, 2, 4].map((mm) => widthsOf(sure(measuredTo(tuesday, mm, mm), setTo(0))));
    const placed = widthsOf(sure(measuredTo(tuesday, 1, 1), setTo(40)));
    for (const name of Object.keys(one!)) {
      // Mean and area hardly have more to give once a bar bears on an edge; shapes go on straight.
      const least = /Mm$|Deg$/.test(name) ? 1.5 : 1;
      expect(two![name]!, name).toBeGreaterThan(least * one![name]!);
      expect(four![name]!, name).toBeGreaterThan(least * two![name]!);
    }
    for (const name of ['pitchDeg', 'shareFront', 'tipGapMm', 'slopeFrontDeg'] as const)
      expect(placed[name]!, name).toBeGreaterThan(one![name]!);
  });

  test('the same seed gives the same bytes, another seed other draws', () => {
    const options = { draws: 25, seed: 5 };
    const first = JSON.stringify(sure(tuesday, SETUP_DEFAULTS, options));
    expect(JSON.stringify(sure(tuesday, SETUP_DEFAULTS, options))).toBe(first);
    const other = sure(tuesday, SETUP_DEFAULTS, { ...options, seed: 6 });
    expect(other.bands.pitchDeg!.low).not.toBe(JSON.parse(first).bands.pitchDeg.low);
    expect(other.bands.pitchDeg!.value).toBe(JSON.parse(first).bands.pitchDeg.value);
  });

  test('lie about the value as measured, and say what their width comes from', () => {
    const { bands, lost } = sure(tuesday, SETUP_DEFAULTS, { draws: 200 });
    expect(lost).toBe(0);
    const { lengthwiseLeftMm, slopeFrontDeg } = bands;
    for (const { value, low, high, from } of [lengthwiseLeftMm!, slopeFrontDeg!]) {
      expect(low).toBeLessThan(value);
      expect(high).toBeGreaterThan(value);
      expect(from.map(({ source }) => source)).toEqual(BAND_SOURCES);
    }
    const share = (figure: BandFigure, word: RegExp): number =>
      bands[figure]!.from.filter(({ source }) => word.test(source)).reduce((sum, s) => sum + s.share, 0);
    expect(share('lengthwiseLeftMm', /heights/)).toBeGreaterThan(0.7);
    expect(share('slopeFrontDeg', /slopes|set position/)).toBeGreaterThan(0.7);
    expect(share('slopeRearDeg', /rear|middle|set position/)).toBeGreaterThan(0.6);
  });

  test('none from fewer than twenty draws', () => {
    const few = sure(tuesday, SETUP_DEFAULTS, { draws: 19 });
    expect(few.bands).toEqual({});
    expect(few.findings).toEqual([]);
  });

  test('39 draws: the least and the most hold 95 of 100', () => {
    const sorted = Array.from({ length: 39 }, (_, i) => i);
    expect([quantile(sorted, 0.025), quantile(sorted, 0.975)]).toEqual([0, 38]);
  });
});

describe('ratios to the rules', () => {
  test('above 1 they are the findings, drawn horses of seed 3', () => {
    const random = seededRandom(3);
    let seen = 0;
    for (let i = 0; i < 12; i++) {
      const wide = measuredTo(tuesday, 14, 9);
      const setup = { ...SETUP_DEFAULTS, samples: 400, setPositionMm: -30 + 120 * random() };
      const reading = readAgainst(post, drawError(wide, random).lift, tuesday, setup, null);
      const ratios = ruleRatios(reading);
      const most = new Map<string, number>();
      for (const { code, ratio } of observeAll(reading)) most.set(code, Math.max(most.get(code) ?? 0, ratio));
      const over = Object.entries(ratios).filter(([, ratio]) => ratio > 1);
      expect(over.map(([code]) => code).sort()).toEqual([...most.keys()].sort());
      for (const [code, ratio] of over) expect(ratio, code).toBeCloseTo(most.get(code)!, 9);
      for (const ratio of Object.values(ratios)) expect(ratio).toBeGreaterThanOrEqual(LEAST_RATIO);
      if (over.length > 0) expect(furthest(ratios)!.ratio).toBe(Math.max(...most.values()));
      seen += over.length;
    }
    expect(seen).toBeGreaterThan(20);
  });
});

describe('findings that the measurements do not settle', () => {
  test('scenario 22: noise of 3 mm and 2 degrees; what lies within it reads "can\'t tell from these measurements"', () => {
    const { findings, repeat } = sure(tuesday, setTo(0), { draws: 200, samples: 600 });
    const open = findings.filter(({ isOpen }) => isOpen);
    expect(open.length).toBeGreaterThan(0);
    for (const { sentence, share, ratioLow, ratioHigh } of open) {
      expect(sentence).toMatch(/^Can't tell from these measurements: /);
      expect(sentence).toContain(`${Math.round(200 * share)} of 200 horses`);
      expect(sentence).toMatch(/would narrow it most\.$/);
      expect(ratioHigh).toBeGreaterThan(1);
      expect(ratioLow).toBeLessThan(1 + 0.5 * (ratioHigh - 1) + 0.2);
    }
    for (const { isOpen, sentence } of findings) if (!isOpen) expect(sentence).not.toMatch(/can't tell/i);
    expect(repeat).not.toBeNull();
  });

  test('with a sure hand the same findings are settled, and nothing is worth measuring again', () => {
    const { findings, repeat } = sure(measuredTo(tuesday, 0.05, 0.05), setTo(0), { draws: 40 });
    expect(findings.filter(({ isOpen }) => isOpen)).toEqual([]);
    expect(repeat).toBeNull();
  });

  test('halving the error of the measurement it names narrows an open finding more than halving any other (seed 1)', () => {
    const options = { draws: 150, samples: 300 };
    const setup = setTo(15);
    const before = sure(tuesday, setup, options);
    const open = before.findings.find(({ isOpen, ratioLow }) => isOpen && ratioLow > LEAST_RATIO)!;
    const widthWith = (source: (typeof BAND_SOURCES)[number]): number => {
      const after = sure(tuesday, setup, { ...options, sdScale: { [source]: 0.5 } });
      const { ratioHigh, ratioLow } = after.findings.find(({ code }) => code === open.code)!;
      return ratioHigh - ratioLow;
    };
    const widths = new Map(BAND_SOURCES.map((source) => [source, widthWith(source)]));
    const narrowest = [...widths].reduce((a, b) => (b[1] < a[1] ? b : a));
    expect(narrowest[0]).toBe(open.repeat);
    expect(narrowest[1]).toBeLessThan(0.95 * (open.ratioHigh - open.ratioLow));
  });
});
