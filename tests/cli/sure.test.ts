import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { howSure, prepareFit, SETUP_DEFAULTS } from '@barwright/geometry';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { exampleBack, examplePattern } from '../support/examples.ts';
import { asJson, NO_VERDICT, schemaErrors } from './results.ts';
import { openWorkshop, type Workshop } from './run-command.ts';

let shop: Workshop;
beforeAll(async () => {
  shop = await openWorkshop();
});
afterAll(() => shop.close());

const folder = (): string => join(shop.folder, 'out');
beforeEach(async () => {
  await rm(folder(), { recursive: true, force: true });
  await mkdir(folder());
});
const sure = async (args: readonly string[]) => {
  const run = await shop.run(['sure', ...args], { env: { SOURCE_DATE_EPOCH: '1795564800' } });
  return { ...run, document: JSON.parse(run.stdout) };
};
const PAIR = ['post.pattern.json', 'tuesday.back.json'];
const FEW = [...PAIR, '--draws', '60'];

describe('sure', () => {
  test('Post on Tuesday: bands number for number as the geometry has them, open findings in words', async () => {
    const { document, exitCode, stdout, stderr } = await sure([...FEW, '--out', 'out/s.json']);
    expect(exitCode).toBe(0);
    expect(await schemaErrors(shop, 'sure-result', document)).toBeNull();
    expect(await readFile(join(folder(), 's.json'), 'utf8')).toBe(stdout);
    const setup = SETUP_DEFAULTS;
    const { tree, back } = prepareFit({ pattern: examplePattern('post'), back: exampleBack('tuesday'), setup });
    const run = howSure(tree, back, setup, { draws: 60 });
    let step = run.next();
    while (!step.done) step = run.next();
    const { pattern, back: name, samples, advice, ...rest } = document.result;
    expect(rest).toEqual(asJson(step.value));
    expect([pattern, name, samples]).toEqual(['Post', 'Tuesday', 1500]);
    expect(stderr).toContain('60 horses drawn that these measurements could have come from (3 mm and 2 deg');
    expect(stderr.replace(/\s+/g, ' ')).toContain(advice);
    const open = rest.findings.filter(({ isOpen }: { isOpen: boolean }) => isOpen);
    expect(open.length).toBeGreaterThan(0);
    for (const { sentence } of open) {
      expect(sentence).toMatch(/^Can't tell from these measurements/);
      expect(stderr.replace(/\s+/g, ' ')).toContain(sentence);
    }
    for (const { sentence } of rest.findings) expect(sentence).not.toMatch(NO_VERDICT);
  });

  test('the same seed prints the same bytes, another seed other bands', async () => {
    const first = (await sure([...FEW, '--seed', '5'])).stdout;
    expect((await sure([...FEW, '--seed', '5'])).stdout).toBe(first);
    const other = (await sure([...FEW, '--seed', '6'])).document.result;
    expect(other.bands.pitchDeg.low).not.toBe(JSON.parse(first).result.bands.pitchDeg.low);
    expect(other.bands.pitchDeg.value).toBe(JSON.parse(first).result.bands.pitchDeg.value);
  });

  test('a surer hand and a marked set position settle more, and the repeat is no longer asked for', async () => {
    const tuesday = JSON.parse(await readFile(join(shop.folder, 'tuesday.back.json'), 'utf8'));
    Object.assign(tuesday.measured, { uncertaintyMm: 0.1, uncertaintyDeg: 0.1 });
    await writeFile(join(folder(), 'sharp.back.json'), JSON.stringify(tuesday));
    const args = [
      'post.pattern.json',
      'out/sharp.back.json',
      '--draws',
      '60',
      '--set',
      'setup.rules.setPositionBandMm=0.1',
    ];
    const { document, stderr } = await sure(args);
    expect(document.result.advice).toBeNull();
    expect(document.result.findings.some(({ isOpen }: { isOpen: boolean }) => isOpen)).toBe(false);
    expect(stderr).not.toMatch(/can't tell/i);
    const { pitchDeg } = document.result.bands;
    expect(pitchDeg.high - pitchDeg.low).toBeLessThan(0.1);
  });

  test('a tree that leaves the data on the back as measured has no band, and exit 1', async () => {
    const { document, exitCode, stderr } = await sure([...FEW, '--set', 'setup.setPositionMm=200']);
    expect(await schemaErrors(shop, 'sure-result', document)).toBeNull();
    expect([exitCode, Object.keys(document.result.bands).length === 0]).toEqual([1, true]);
    expect(stderr).toContain('No band');
  });

  test.each([
    [['post.pattern.json'], 'usage', /missing required argument/],
    [['tuesday.back.json', 'post.pattern.json'], 'unknown-schema', /barwright\/pattern\/1/],
    [['post.pattern.json', 'nowhere.back.json'], 'missing', /a file of this name/],
    [[...PAIR, '--draws', '19'], 'usage', /a whole number from 20 to 5000/],
    [[...PAIR, '--draws', '1e9'], 'usage', /a whole number from 20 to 5000/],
    [[...PAIR, '--draws', 'many'], 'usage', /a whole number/],
    [[...PAIR, '--seed', '4294967296'], 'usage', /from 0 to 4294967295/],
    [[...PAIR, '--seed', '1.5'], 'usage', /a whole number/],
    [[...PAIR, '--map', 'out/s.svg'], 'usage', /unknown option/],
    [[...PAIR, '--out', 'tuesday.back.json'], 'path', /a file of its own/],
    [[...PAIR, '--set', 'setup.rules.nothing=1'], 'unknown-name', /setup/],
  ])('refuses %j: %s, writing nothing', async (args, code, words) => {
    const { document, exitCode, stdout } = await sure(args);
    expect(exitCode).toBe(2);
    expect(document.error.code).toBe(code);
    expect(stdout).toMatch(words);
    expect(await readdir(folder())).toEqual([]);
  });
});
