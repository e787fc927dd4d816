import { describe, expect, it } from 'vitest';
import { measureTree } from '../bar/index.ts';
import { fitTree } from '../findings/index.ts';
import { demoPatternTree, evenBack } from '../findings/scenario.fixture.ts';
import { SETUP_DEFAULTS, type Setup, seatTree } from '../seating/index.ts';
import { coverTable, coverTree } from './cover.ts';
import { readGive, withBars } from './give-figures.ts';
import { giveSentences } from './give-words.ts';
import { loadedShape } from './loaded-shape.ts';
import { partsCount, partsTable } from './parts-table.ts';
import { rideGive } from './ride-give.ts';
import { curvesAssumed, warmUp } from './warm-up.ts';

const plastic = {
  bar: 'high density polyethylene',
  lower: 'low density polyethylene',
  tip: 'low density polyethylene',
};
const tree = { ...demoPatternTree('post'), materials: plastic };
const tuesday = evenBack('tuesday');
const dumpling = evenBack('dumpling');
const setup: Setup = { ...SETUP_DEFAULTS, samples: 2000 };
const flexible = withBars(setup, 'flexible');
const tipLoad = ({ zones }: { zones: readonly { name: string; loadN: number }[] }): number =>
  zones.filter(({ name }) => name.includes('tip')).reduce((sum, { loadN }) => sum + loadN, 0);

describe('what each part buys', () => {
  const rows = [...partsTable(tree, dumpling, setup)];
  const row = (part: string) => rows.find((one) => one.part === part)!.figures;

  it('as built is the fit, number for number; every row says what was done', () => {
    const { result } = fitTree(tree, dumpling, flexible, { detail: 'figures' });
    expect(row('as built').p95KPa).toBe(result.contact.p95PressureKPa);
    expect(row('as built').areaCm2).toBe(result.contact.areaCm2);
    expect(rows.map(({ part }) => part)).toEqual([
      'as built',
      'rigid bars',
      'tips',
      'flare',
      'ground seat',
      'soft tissue',
      'pad',
    ]);
    expect(rows).toHaveLength(partsCount(tree, setup));
    for (const { changed } of rows) expect(changed).toMatch(/\.$/);
  });

  it('tips without lift or give carry more; without the ground seat the middle gives more; without the pad p95 rises', () => {
    expect(tipLoad(row('as built'))).toBeLessThan(tipLoad(row('rigid bars')));
    expect(tipLoad(row('as built'))).toBeLessThan(tipLoad(row('flare')));
    const middle = (part: string): number => Math.abs(row(part).flex!.bars[1].middleMm);
    expect(middle('ground seat')).toBeGreaterThan(middle('as built'));
    expect(row('pad').p95KPa).toBeGreaterThan(row('as built').p95KPa);
  });

  it('warmth is a row where there is any', () => {
    const warm = { ...setup, warmth: { ...setup.warmth, ambientC: 10, minutes: 30 } };
    expect([...partsTable(tree, tuesday, warm)].map(({ part }) => part)).toContain('warmth');
  });
});

describe('warmth and time', () => {
  it('starts at the air, ends near the back, and softer tips move more on the way; every curve is named', () => {
    const cold = { ...setup, warmth: { ...setup.warmth, ambientC: 5 } };
    const rows = [...warmUp(tree, dumpling, cold, { minutes: [0, 10, 60, 600], hours: [] })];
    expect(rows.map(({ barC }) => barC)[0]).toBe(5);
    expect(rows[0]!.figures).toEqual(readGive(tree, dumpling, withBars(cold, 'flexible')));
    expect(rows[3]!.layerC).toBeCloseTo(5 + 0.8 * 30, 6);
    const moves = rows.map(({ figures }) => figures.flex!.bars[0].tips[0].greatestMm);
    for (let i = 1; i < moves.length; i++) expect(moves[i]!).toBeGreaterThan(moves[i - 1]!);
    expect(curvesAssumed(tree, cold).join(' ')).toMatch(/PPI Handbook of PE Pipe.*/);
  });

  it('hours under load creep the tips further', () => {
    const rows = [...warmUp(tree, dumpling, setup, { minutes: [], hours: [0, 1, 100, 8766] })];
    const moves = rows.map(({ figures }) => figures.flex!.bars[0].tips[0].greatestMm);
    for (let i = 1; i < moves.length; i++) expect(moves[i]!).toBeGreaterThan(moves[i - 1]!);
  });
});

describe('the loaded shape', () => {
  it('of rigid bars is the bare one; of flexible ones it twists, and the core angle stays within a degree', () => {
    const still = loadedShape(seatTree(tree, tuesday, setup));
    expect(still.angleChangeDeg).toBe(0);
    expect(still.sagLoadedMm).toBe(still.sagMm);
    const bent = loadedShape(
      seatTree(tree, dumpling, withBars({ ...setup, load: { ...setup.load, factor: 2.5 } }, 'flexible')),
    );
    expect(Math.abs(bent.angleChangeDeg)).toBeGreaterThan(0.01);
    expect(Math.abs(bent.angleChangeDeg)).toBeLessThan(1);
  });
});

describe('a cover that shrinks', () => {
  it('measures back as it was asked for: angle within 0.01 degrees, spread within 0.01 mm', () => {
    const moved = measureTree(coverTree(tree, { angleDeg: 2, spreadMm: 3 }));
    const bare = measureTree(tree);
    for (const name of ['front', 'waist', 'rear']) {
      const of = (measured: typeof bare) => measured.pairs.find((pair) => pair.name === name)!;
      expect(of(moved).includedAngleDeg - of(bare).includedAngleDeg).toBeCloseTo(2, 2);
      expect(of(moved).spreadMm - of(bare).spreadMm).toBeCloseTo(3, 2);
    }
  });

  it('a narrower tree sits higher, a wider one lower', () => {
    const [asMade, drawnIn, letOut] = [...coverTable(tree, tuesday, setup)].map(({ figures }) => figures.heightMm);
    expect(drawnIn!).toBeGreaterThan(asMade!);
    expect(letOut!).toBeLessThan(asMade!);
  });
});

describe('ride give', () => {
  it.each([
    ['rigid', setup],
    ['flexible', flexible],
  ] as const)('%s bars: the work on the way down is what is stored, within a hundredth', (_name, own) => {
    for (const row of rideGive(tree, tuesday, own, [1.5, 2.5])) {
      expect(row.seatTravelMm).toBeGreaterThan(0);
      expect(Math.abs(row.workNmm / row.storedNmm - 1)).toBeLessThan(0.01);
    }
  });

  it('flexible bars give more than rigid ones', () => {
    const travel = (own: Setup): number => [...rideGive(tree, dumpling, own, [2.5])][0]!.seatTravelMm;
    expect(travel(flexible)).toBeGreaterThan(travel(setup));
  });
});

describe('in words', () => {
  it('says what the tips shed and where it went, that bridging stays, and what the core does', () => {
    const [rigid, soft] = [readGive(tree, dumpling, setup), readGive(tree, dumpling, flexible)];
    const words = giveSentences(rigid, soft, loadedShape(seatTree(tree, dumpling, flexible)), setup.rules.lengthwiseMm);
    expect(words).toHaveLength(3);
    expect(words[0]).toContain(`instead of ${tipLoad(rigid).toFixed(0)} N`);
    expect(words[1]).toContain('does not fix bridging');
    expect(words[2]).toMatch(/degrees (wider|narrower)/);
    expect(words.join(' ')).not.toMatch(/safe|\bok\b|better/i);
  });
});
