import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { COARSE, openWorkshop, type Workshop } from './run-command.ts';

let shop: Workshop;
let errorsOf: (schema: 'back-result' | 'numbers' | 'back', document: unknown) => Promise<unknown>;

beforeAll(async () => {
  shop = await openWorkshop();
  errorsOf = async (name, document) => {
    const schema = JSON.parse((await shop.run(['schema', name])).stdout);
    const validate = new Ajv2020({ strict: true, strictRequired: false, strictTuples: false, allowUnionTypes: true });
    const check = validate.compile(schema);
    return check(document) ? null : check.errors;
  };
});
afterAll(() => shop.close());

const folder = (): string => join(shop.folder, 'out');
beforeEach(async () => {
  await rm(folder(), { recursive: true, force: true });
  await mkdir(folder());
});

const NUMBERS = {
  '--usable-length': '19 3/4 in',
  '--withers-width': '7 1/4 in',
  '--slope-front': 'left 46, right 45',
  '--slope-waist': '33',
  '--slope-rear': '24',
  '--dip': '1 3/8 in',
};
const flags = (change: Record<string, string | undefined> = {}): string[] =>
  Object.entries({ ...NUMBERS, ...change }).flatMap(([option, value]) => (value === undefined ? [] : [option, value]));
const back = async (...args: string[]) => {
  const run = await shop.run(['back', ...args]);
  return { ...run, document: JSON.parse(run.stdout) };
};

describe('back by hand', () => {
  test('shop numbers give a sections document with a wide error, its source, and what was assumed', async () => {
    const { document, exitCode, stderr } = await back(...flags(), '--out', 'out/t.back.json', '--on', '2026-11-20');
    expect(exitCode).toBe(0);
    expect(await errorsOf('back-result', document)).toBeNull();
    const { result } = document;
    expect(result).toMatchObject({ kind: 'by hand', toConfirm: [], written: ['t.back.json'] });
    expect(result.document.usableLengthMm).toBeCloseTo(501.65, 9);
    expect(result.document.slopeDeg[3][2]).toBeCloseTo(33, 9);
    expect(result.document.measured).toMatchObject({ on: '2026-11-20', uncertaintyMm: 12, uncertaintyDeg: 4 });
    expect(result.byHand.uncertainty.reason).toMatch(/common practice, no source/);
    // 28 slopes less the three that were measured, 7 heights, and what nobody can measure with a ruler.
    expect(result.byHand.assumed.filter(({ field }: { field: string }) => field.startsWith('slopeDeg'))).toHaveLength(
      25,
    );
    expect(stderr).toMatch(/May be off by 12 mm and 4 degrees, or more/);
    expect(stderr).toMatch(/withers depth +- +75\.0 mm +not given: common practice, no source/);
    const written = JSON.parse(await readFile(join(folder(), 't.back.json'), 'utf8'));
    expect(await errorsOf('back', written)).toBeNull();
    expect(written).toEqual(result.document);
    const fit = await shop.run(['fit', 'post.pattern.json', 'out/t.back.json', ...COARSE]);
    expect(JSON.parse(fit.stdout).result.status).toBe('settled');
  });

  test('a file of numbers gives the same back as the options, and options go over it', async () => {
    const file = {
      ...{ schema: 'barwright/numbers/1', name: 'By hand', usableLength: '19 3/4 in', withersWidth: '7 1/4 in' },
      ...{ slopeFront: { left: 46, right: 45 }, slopeWaist: 33, slopeRear: '24', dip: '1 3/8 in' },
      measured: { by: 'not stated', on: '2026-11-20' },
    };
    expect(await errorsOf('numbers', file)).toBeNull();
    await writeFile(join(folder(), 't.numbers.json'), JSON.stringify(file));
    const options = (await back(...flags(), '--on', '2026-11-20')).document.result.document;
    for (const args of [['--by-hand', 'out/t.numbers.json'], ['out/t.numbers.json']]) {
      const { document } = await back(...args);
      expect(document.result.document).toEqual(options);
      expect(document.inputs).toHaveLength(1);
    }
    const over = (await back('out/t.numbers.json', '--slope-waist', '35')).document.result.document;
    expect(over.slopeDeg[3][2]).toBeCloseTo(35, 9);
  });

  test('a sag states the smaller error; without --on today is taken and said', async () => {
    const { document } = await back(...flags({ '--dip': undefined, '--sag': '22 mm' }));
    expect(document.result.document.measured.uncertaintyMm).toBe(8);
    const [{ sentence }] = document.warnings;
    expect(sentence).toMatch(/^No day was given: today/);
    const worse = await back(...flags(), '--uncertainty-mm', '20');
    expect(worse.document.result.document.measured.uncertaintyMm).toBe(20);
  });

  test('notes go into the record', async () => {
    const record = ['--surface', 'bare', '--how', 'flexible ruler and level', '--notes', 'coat clipped'];
    const { document } = await back(...flags(), ...record);
    expect(document.result.document.record).toEqual({
      ...{ surface: 'bare', how: 'flexible ruler and level', notes: 'coat clipped' },
    });
  });

  test.each([
    ['ambiguous', '--withers-width', /"7 1\/4 in" if you mean 7\.25 in/, flags({ '--withers-width': '7-1/4' })],
    ['out-of-range', '--usable-length', /200 to 900/, flags({ '--usable-length': '19.75' })],
    ['not-a-number', '--usable-length', /finite/, flags({ '--usable-length': '1e999' })],
    ['out-of-range', '--slope-front', /0 to 65/, flags({ '--slope-front': '88' })],
    ['syntax', '--slope-front', /both sides/, flags({ '--slope-front': 'left 46' })],
    ['out-of-range', '--dip', /-20 to 150/, flags({ '--dip': '-40 in' })],
    ['inconsistent', '--withers-width', /Measure width, depth and slope/, flags({ '--withers-width': '16 in' })],
    ['missing', '--slope-rear', /one of --dip and --sag/, flags({ '--slope-rear': undefined })],
    ['inconsistent', '--sag', /one of dip and sag/, flags({ '--sag': '20' })],
    ['out-of-range', '--uncertainty-mm', /at least 12/, [...flags(), '--uncertainty-mm', '2']],
    ['usage', '--unit', /scan or tracings/, [...flags(), '--unit', 'm']],
    ['usage', '--on', /a day of the calendar/, [...flags(), '--on', '2026-02-30']],
    ['usage', '--surface', /--notes/, [...flags(), '--notes', 'clipped']],
    ['usage', 'file', /not both/, ['tuesday-scan.ply', ...flags()]],
    ['missing', null, /a file of this name/, ['--by-hand', 'nowhere.json']],
    ['unknown-schema', 'schema', /barwright\/numbers\/1/, ['--by-hand', 'wren.pattern.json']],
    ['usage', '--out', /ends in \.back\.json/, [...flags(), '--out', 'out/t.json']],
    ['usage', 'back', /--by-hand/, []],
  ] as const)('refuses, %s at %s, writing nothing: %s', async (code, field, words, args) => {
    const out = field === '--out' ? [] : ['--out', 'out/t.back.json'];
    const { document, exitCode, stderr } = await back(...args, ...out);
    expect(exitCode).toBe(2);
    expect(document.error).toMatchObject({ code, field });
    expect(`${stderr}${document.error.expected}`).toMatch(words);
    expect(await readdir(folder())).toEqual([]);
  });
});
