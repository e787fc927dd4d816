import { describe, expect, it } from 'vitest';
import { buildSectionsBack } from '../back/index.ts';
import { buildTree } from '../bar/index.ts';
import { fitTree } from '../findings/index.ts';
import { demoDocument, evenBack, scenarioSetup } from '../findings/scenario.fixture.ts';
import { createCaseBacks, setupOfCase } from '../motion/index.ts';
import { resolvePattern } from '../pattern/index.ts';
import { readRider } from './rider-schema.ts';
import { seatRange } from './seat-range.ts';
import { listChoices, readShelf } from './shelf-schema.ts';
import { setupOfCell } from './size-cell.ts';
import { type SizeResult, sizeShelf } from './size-shelf.ts';
import { GIVING_JSON, POST, RIDERS, SHELF_JSON, shortShelf } from './sizing.fixture.ts';
import { heldPressureKPa } from './time-curve.ts';

const setup = scenarioSetup({ samples: 2000 });
const backs = {
  dumpling: buildSectionsBack(demoDocument('dumpling')),
  heron: buildSectionsBack(demoDocument('heron')),
};

function size(
  rider: keyof typeof RIDERS,
  back: keyof typeof backs,
  shelf = shortShelf(['15 in', '17 in']),
): SizeResult {
  const run = sizeShelf({ rider: RIDERS[rider], shelf, pattern: POST, back: backs[back], setup });
  for (let step = run.next(); ; step = run.next()) if (step.done) return step.value;
}

describe('sizing a shelf', () => {
  const heavyDumpling = size('heavy', 'dumpling');
  const heavyHeron = size('heavy', 'heron', shortShelf(['15 in', '17 in', '18 in'], ['steep', 'middle']));

  it('every cell is the fit of its documents, number for number', () => {
    const shelf = shortShelf(['15 in', '17 in']);
    const choices = listChoices(shelf, POST);
    const caseBacks = createCaseBacks(backs.dumpling);
    heavyDumpling.rows.forEach((row, i) => {
      const tree = buildTree(resolvePattern(choices[i]!.pattern));
      const own = setupOfCell(setup, shelf, RIDERS.heavy, shelf.pads[0]!);
      row.cases.forEach((sized, k) => {
        const riding = RIDERS.heavy.riding.cases[k]!;
        const { result } = fitTree(tree, caseBacks(riding), setupOfCase(tree, own, riding), { detail: 'figures' });
        expect(sized.meanPressureKPa).toBe(result.contact.meanPressureKPa);
        expect(sized.p95PressureKPa).toBe(result.contact.p95PressureKPa);
        const told = result.findings.filter(
          ({ code }) => code !== 'cannot-tell' && code !== 'sensitive-to-set-position',
        );
        expect(sized.findings.map(({ code, sizeMm }) => [code, sizeMm])).toEqual(
          told.map(({ code, sizeMm }) => [code, sizeMm]),
        );
      });
    });
  });

  it('a shelf may offer tips whose bars give: their cells are fits with flexible bars and their own materials', () => {
    const layered = GIVING_JSON.tips.find(({ label }) => label === 'layered bars, lifted tips')!;
    const shelf = readShelf({
      ...GIVING_JSON,
      seats: ['17 in'],
      widths: [GIVING_JSON.widths[0]],
      tips: [layered, GIVING_JSON.tips[0]],
    });
    const { rows } = size('light', 'heron', shelf);
    expect(rows.map(({ tip, bars }) => [tip, bars])).toEqual([
      ['layered bars, lifted tips', 'flexible'],
      ['plain tips', null],
    ]);
    const [choice] = listChoices(shelf, POST);
    expect(choice!.pattern.materials.bar).toBe('high density polyethylene');
    const tree = buildTree(resolvePattern(choice!.pattern));
    const own = setupOfCell(setup, shelf, RIDERS.light, shelf.pads[0]!, 'flexible');
    const riding = RIDERS.light.riding.cases[0]!;
    const { result } = fitTree(tree, backs.heron, setupOfCase(tree, own, riding), { detail: 'figures' });
    expect(result.flex).not.toBeNull();
    expect(rows[0]!.cases[0]!.p95PressureKPa).toBe(result.contact.p95PressureKPa);
  });

  it('a 230 lb rider: nothing on Dumpling and why, a long tree on Heron; both reasons are said', () => {
    expect(heavyDumpling.closest).toBeNull();
    expect(heavyDumpling.needed.join(' ')).toMatch(/this back no bar gives both/);
    const reasons = heavyDumpling.rows.filter((row) => row.isInSeatRange).map((row) => row.reason);
    for (const reason of reasons)
      expect(reason).toMatch(
        /^The rider wants a seat of 17 in, the seat a bar of 597 mm; this back has room for \d+ mm: bearing passes/,
      );
    expect(heavyHeron.closest).not.toBeNull();
    const taken = heavyHeron.rows[heavyHeron.closest!]!;
    expect([taken.seat, taken.width, taken.reason]).toEqual(['18 in', 'steep', null]);
    expect(heavyHeron.needed).toEqual([]);
  });

  it('exactly one row has no reason against it, when one was taken at all; each other has one', () => {
    expect(heavyHeron.rows.filter(({ reason }) => reason === null)).toHaveLength(1);
    expect(heavyDumpling.rows.filter(({ reason }) => reason === null)).toHaveLength(0);
    for (const { reason } of [...heavyHeron.rows, ...heavyDumpling.rows]) {
      expect(reason ?? 'taken').not.toMatch(/safe|allowed|\bok\b|pass(ed)?\b(?!es)|fail/i);
    }
  });

  it('short seats are refused to the heavy rider by the table, long ones to the light', () => {
    expect(heavyDumpling.rows[0]!.reason).toMatch(/^Seat 15 in is shorter than this rider's 17 in to 18.5 in/);
    const light = size('light', 'heron', shortShelf(['15 in', '17 in'], ['steep']));
    expect(light.rows.map(({ isInSeatRange }) => isInSeatRange)).toEqual([true, false]);
    expect(light.rows[1]!.reason).toMatch(/^Seat 17 in is longer than/);
  });

  it('the order of the shelf changes nothing', () => {
    const turned = readShelf({
      ...SHELF_JSON,
      seats: ['17 in', '15 in'],
      widths: [SHELF_JSON.widths[2]!, SHELF_JSON.widths[1]!],
      tips: SHELF_JSON.tips.filter(({ label }) => label === 'lifted tips'),
    });
    expect(size('heavy', 'dumpling', turned)).toEqual(heavyDumpling);
  });

  it('capacity with the pad and without are those of the solver, and the pad raises the mean limit', () => {
    const { capacity, loadN } = heavyHeron.rows[heavyHeron.closest!]!;
    expect(loadN).toBeCloseTo((230 * 0.45359237 + 15) * 9.80665, 6);
    expect(capacity.withPad.firstN!).toBeGreaterThan(capacity.withoutPad!.firstN!);
    expect(capacity.padLabel).toBe('3/4 in pad');
  });

  it('a tree that reaches beyond the data is not taken', () => {
    const short = {
      ...demoDocument('heron'),
      stationsMm: [-100, 0, 100, 200, 300],
      bearingHeightMm: [34, 21, 8, 1, 0],
    };
    const cut = buildSectionsBack({
      ...short,
      slopeDeg: demoDocument('heron').slopeDeg.slice(0, 5),
      usableLengthMm: 290,
    });
    const run = sizeShelf({
      rider: RIDERS.heavy,
      shelf: shortShelf(['17 in'], ['steep']),
      pattern: POST,
      back: cut,
      setup,
    });
    let step = run.next();
    while (!step.done) step = run.next();
    expect(step.value.closest).toBeNull();
    expect(step.value.rows[0]!.reason).toMatch(/off the data/);
  });
});

describe('riders and seats', () => {
  it.each([
    [58, 'average', 13, 15, false],
    [62, 'average', 13, 16, false],
    [95, 'average', 16, 18.5, false],
    [104.3, 'short', 16.5, 18, false],
    [104.3, 'long', 17.5, 19, false],
    [40, 'average', 13, 15, true],
    [140, 'average', 17, 18.5, true],
  ] as const)('%d kg, %s thigh: %d to %d in', (kg, thigh, fromIn, toIn, isBeyondTable) => {
    expect(seatRange(kg, thigh)).toEqual({ fromIn, toIn, isBeyondTable });
  });

  it('masses are read as shops and stables write them', () => {
    const rider = (mass: unknown) => readRider({ schema: 'barwright/rider/1', name: 'r', mass });
    expect(rider('230 lb').massKg).toBeCloseTo(104.3262451, 9);
    expect(rider(80).massKg).toBe(80);
    expect(() => rider('4 lb')).toThrowError(/10 to 300 kg/);
    expect(() => rider('80 mm')).toThrowError(/mass/);
    expect(() => readRider({ schema: 'barwright/rider/1', name: 'r', mass: 80, riding: 'flying' })).toThrowError(
      /riding/,
    );
  });

  it.each([
    [{ seats: ['15 in', 381] }, /seats/],
    [
      {
        widths: [
          { label: 'a', values: {} },
          { label: 'a', values: {} },
        ],
      },
      /widths/,
    ],
    [{ pattern: '../post.pattern.json' }, /pattern/],
    [{ widths: [] }, /widths/],
  ])('a shelf with %j is refused', (change, message) => {
    const bad = { ...SHELF_JSON, ...change };
    const seats = 'seats' in change ? { seats: ['15 in', '381 mm'] } : {};
    expect(() => readShelf({ ...bad, ...seats })).toThrowError(message);
  });

  it('a value that the pattern does not have is refused by name', () => {
    const shelf = readShelf({ ...SHELF_JSON, widths: [{ label: 'x', values: { slopeFrnt: 40 } }] });
    expect(() => listChoices(shelf, POST)).toThrowError(/slopeFrnt/);
  });
});

describe('held pressure over time (Linder-Ganz et al. 2006, rat)', () => {
  it('32 kPa up to an hour, 9 kPa from two hours on, never rising between', () => {
    expect([0, 0.5, 1].map(heldPressureKPa)).toEqual([32, 32, 32]);
    expect([2, 3, 24].map(heldPressureKPa)).toEqual([9, 9, 9]);
    for (let h = 1; h < 2; h += 0.05) expect(heldPressureKPa(h + 0.05)).toBeLessThan(heldPressureKPa(h));
  });
});

describe('even-sided backs', () => {
  it('show the same on both sides in every cell', () => {
    const run = sizeShelf({
      rider: RIDERS.light,
      shelf: shortShelf(['15 in'], ['middle']),
      pattern: POST,
      back: evenBack('tuesday'),
      setup,
    });
    const cell = run.next().value;
    const level = 'cases' in cell! ? cell.cases[0]! : null;
    for (const { side } of level!.findings) expect(side).toBe('both');
  });
});
