import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { CHANGE_COLUMNS } from '../../packages/cli/src/output/compare-backs-csv.ts';
import { openWorkshop, type Workshop } from './run-command.ts';

let shop: Workshop;
let errorsOf: (document: unknown) => unknown;

/** Tuesday measured with care in June, and again in September with more muscle on the left and a hollow on the right. */
beforeAll(async () => {
  shop = await openWorkshop();
  const schema = JSON.parse((await shop.run(['schema', 'changes-result'])).stdout);
  const validate = new Ajv2020({ strict: true, strictRequired: false, strictTuples: false }).compile(schema);
  errorsOf = (document) => (validate(document) ? null : validate.errors);
  const tuesday = JSON.parse(await readFile(join(shop.folder, 'tuesday.back.json'), 'utf8'));
  const measured = { by: 'Quillback Lane bench (invented)', uncertaintyMm: 1.5, uncertaintyDeg: 0.7 };
  const record = { owner: 'Zebulon Ownerson', horse: 'Tuesday', surface: 'bare', how: 'flexible ruler' };
  const june = { ...tuesday, measured: { ...measured, on: '2026-06-02' }, record };
  const september = {
    ...{ ...june, measured: { ...measured, on: '2026-09-20' } },
    asymmetry: { ...june.asymmetry, left: { slopeDeg: 0, liftMm: 7, fromMm: 0, toMm: 220, rampMm: 80 } },
    hollow: { ...june.hollow, right: { centreXMm: 400, centreYMm: 120, radiusXMm: 110, radiusYMm: 80, depthMm: 9 } },
  };
  await writeFile(join(shop.folder, 'june.back.json'), JSON.stringify(june));
  await writeFile(join(shop.folder, 'september.back.json'), JSON.stringify(september));
  await writeFile(join(shop.folder, 'copy.back.json'), JSON.stringify(june));
});
afterAll(() => shop.close());

const folder = (): string => join(shop.folder, 'out');
beforeEach(async () => {
  await rm(folder(), { recursive: true, force: true });
  await mkdir(folder());
});
const changes = async (args: readonly string[], today = '2026-10-01') => {
  const env = { SOURCE_DATE_EPOCH: String(Date.parse(today) / 1000) };
  const run = await shop.run(['changes', ...args], { env });
  return { ...run, document: JSON.parse(run.stdout) };
};
const PAIR = ['june.back.json', 'september.back.json'];

describe('changes', () => {
  test('tells what changed by sixths beside what can be shown, and draws it with both dates', async () => {
    const args = [...PAIR, '--map', 'out/c.svg', '--samples', 'out/c.csv', '--out', 'out/c.json'];
    const { document, exitCode, stdout, stderr } = await changes(args);
    expect(exitCode).toBe(0);
    expect(errorsOf(document)).toBeNull();
    const { regions, motion, doubts } = document.result;
    const reading = Object.fromEntries(
      regions.map((r: { side: string; third: string; reading: string }) => [`${r.side} ${r.third}`, r.reading]),
    );
    expect(reading).toMatchObject({
      ...{ 'left front': 'fuller', 'left middle': 'changed in part', 'right rear': 'changed in part' },
      ...{ 'left rear': 'within measuring error', 'right middle': 'within measuring error' },
    });
    expect(Math.abs(motion.backwardMm)).toBeLessThan(0.5);
    expect(doubts).toEqual([]);
    expect(stderr).toMatch(/left, front third \(0 to 167\) +\+4\.2 +\+5\.0 +2\.4 +\d+ +100 +fuller/);
    expect(await readFile(join(folder(), 'c.json'), 'utf8')).toBe(stdout);
    const svg = await readFile(join(folder(), 'c.svg'), 'utf8');
    for (const text of [
      '2026-06-02',
      '2026-09-20',
      'Drawn 2026-10-01',
      'within measuring error',
      'To be kept in mind',
    ]) {
      expect(svg).toContain(text);
    }
    expect(svg).not.toMatch(/NaN|undefined/);
    // The samples reproduce the mean of a sixth.
    const [head, ...lines] = (await readFile(join(folder(), 'c.csv'), 'utf8')).trim().split('\n');
    expect(head).toBe(CHANGE_COLUMNS);
    const rows = lines.map((line) => line.split(',').map(Number));
    const front = rows.filter(([x, y]) => x! < 500 / 3 && y! < 0);
    const mean = front.reduce((sum, row) => sum + row[4]!, 0) / front.length;
    expect(mean).toBeCloseTo(regions[0].bestFitMm, 9);
    expect(rows.filter((row) => row[7] === 1).length / rows.length).toBeCloseTo(document.result.shownShare, 9);
  });

  test('the order turned round turns the signs; by landmarks exactly', async () => {
    const there = (await changes(PAIR)).document.result;
    const back = (await changes([...PAIR].reverse())).document;
    for (const [i, region] of there.regions.entries()) {
      expect(back.result.regions[i].landmarksMm).toBeCloseTo(-region.landmarksMm, 9);
      expect(back.result.regions[i].bestFitMm).toBeCloseTo(-region.bestFitMm, 0);
    }
    expect(back.result.sentences.bestFit.join(' ')).toMatch(/check the order/);
  });

  test('a hand that is less sure sees less: with 6 mm and 4 degrees nothing can be told', async () => {
    for (const name of PAIR) {
      const doc = JSON.parse(await readFile(join(shop.folder, name), 'utf8'));
      Object.assign(doc.measured, { uncertaintyMm: 6, uncertaintyDeg: 4 });
      await writeFile(join(folder(), name), JSON.stringify(doc));
    }
    const { document, stderr } = await changes(PAIR.map((name) => `out/${name}`));
    expect(document.result.shownShare).toBeLessThan(0.02);
    expect(new Set(document.result.regions.map(({ reading }: { reading: string }) => reading))).toEqual(
      new Set(['within measuring error']),
    );
    expect(stderr).toContain('within measuring error');
  });

  test('a scan beside sections of the same horse: no change, the hole left out, proposed landmarks said', async () => {
    const { document, exitCode } = await changes(['tuesday.back.json', 'tuesday-scan.back.json', '--map', 'out/s.png']);
    expect(exitCode).toBe(0);
    const { regions, comparedShare } = document.result;
    for (const { bestFitMm, limitMm, reading } of regions) {
      expect(Math.abs(bestFitMm)).toBeLessThan(limitMm / 4);
      expect(reading).toBe('within measuring error');
    }
    expect(comparedShare).toBeGreaterThan(0.9);
    expect(comparedShare).toBeLessThan(1);
    expect(document.warnings.map((w: { field: string }) => w.field)).toContain('after.landmarks');
    const png = await readFile(join(folder(), 's.png'));
    expect([...png.subarray(1, 4)]).toEqual([...Buffer.from('PNG')]);
  });

  test('two horses that can not be one: said first, on the map too, and exit 1', async () => {
    const { document, exitCode, stderr } = await changes([
      'tuesday.back.json',
      'heron.back.json',
      '--map',
      'out/h.svg',
    ]);
    expect(exitCode).toBe(1);
    expect(errorsOf(document)).toBeNull();
    expect(document.result.doubts.join(' ')).toMatch(/Withers height is 1520 mm and 1630 mm/);
    expect(stderr).toMatch(/These two may not be one horse/);
    expect(await readFile(join(folder(), 'h.svg'), 'utf8')).toContain('These two may not be one horse');
  });

  test('the later back is due again two months on, and not a day before', async () => {
    const due = (await changes(PAIR, '2026-11-20')).document.warnings;
    expect(due).toHaveLength(1);
    expect(due[0]).toMatchObject({ field: 'after.measured.on' });
    expect(due[0].sentence).toMatch(/measure again: due since 2026-11-20.*Greve & Dyson 2014/);
    expect((await changes(PAIR, '2026-11-19')).document.warnings).toEqual([]);
  });

  test.each([
    [['june.back.json', 'june.back.json'], 'inconsistent', /the same file twice/],
    [['june.back.json', 'copy.back.json'], 'inconsistent', /the same content as june\.back\.json/],
    [['june.back.json', 'nowhere.back.json'], 'missing', /a file of this name/],
    [['june.back.json', 'wren.pattern.json'], 'unknown-schema', /barwright\/back\/1/],
    [['june.back.json', 'tuesday-scan.ply'], 'wrong-type', /a back document/],
    [['june.back.json'], 'usage', /missing required argument/],
    [[...PAIR, 'heron.back.json'], 'usage', /too many arguments/],
    [[...PAIR, '--map', 'out/c.pdf'], 'unsupported', /\.svg or \.png/],
    [[...PAIR, '--map', 'june.back.json'], 'unsupported', /\.svg or \.png/],
    [[...PAIR, '--out', 'june.back.json'], 'path', /a file of its own/],
    [[...PAIR, '--map', 'nowhere/c.svg'], 'path', /a folder that exists/],
    [[...PAIR, '--map-ends', '0,1e9'], 'usage', /two ends in mm/],
    [[...PAIR, '--map-ends=-5,5'], 'usage', /two ends in mm/],
    [[...PAIR, '--changed=200,0,-200,0'], 'usage', /four numbers in mm/],
    [[...PAIR, '--changed=all'], 'usage', /four numbers in mm/],
    [[...PAIR, '--align', 'eye'], 'usage', /Allowed choices/],
  ])('refuses %j: %s, writing nothing', async (args, code, words) => {
    const { document, exitCode, stdout } = await changes(args);
    expect(exitCode).toBe(2);
    expect(document.error.code).toBe(code);
    expect(stdout).toMatch(words);
    expect(await readdir(folder())).toEqual([]);
  });
});
