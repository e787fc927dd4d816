import { mkdir, readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { prepareFit, reachOf, SETUP_DEFAULTS } from '@barwright/geometry';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { exampleBack, examplePattern } from '../support/examples.ts';
import { NO_VERDICT, schemaErrors } from './results.ts';
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
const reach = async (args: readonly string[]) => {
  const run = await shop.run(['reach', ...args], { env: { SOURCE_DATE_EPOCH: '1795564800' } });
  return { ...run, document: JSON.parse(run.stdout) };
};
const PAIR = ['post.pattern.json', 'heron.back.json'];
const SMALL = [...PAIR, '--nodes', '5'];

describe('reach', () => {
  test('maps Post around Heron, number for number as the geometry has it, and draws it', async () => {
    const { document, exitCode, stdout, stderr } = await reach([...SMALL, '--map', 'out/r.svg', '--out', 'out/r.json']);
    expect(exitCode).toBe(0);
    expect(await schemaErrors(shop, 'reach-result', document)).toBeNull();
    expect(await readFile(join(folder(), 'r.json'), 'utf8')).toBe(stdout);
    const setup = SETUP_DEFAULTS;
    const { tree, back } = prepareFit({ pattern: examplePattern('post'), back: exampleBack('heron'), setup });
    const run = reachOf(tree, back, setup, { nodes: 5 });
    let step = run.next();
    while (!step.done) step = run.next();
    const { result } = document;
    expect(result.nodes).toHaveLength(25);
    result.nodes.forEach((node: { code: string; ratio: number; slopeDeg: number; sagMm: number }, k: number) => {
      const { code, ratio } = step.value.nodes[k]!;
      expect(node).toMatchObject({ code, ratio, slopeDeg: -8 + 4 * (k % 5), sagMm: -15 + 7.5 * Math.floor(k / 5) });
    });
    expect(result.error).toEqual(step.value.error);
    expect(result.radiusMm).toBeGreaterThan(1200);
    expect(result.radiusMm).toBeLessThan(2200);
    const svg = await readFile(join(folder(), 'r.svg'), 'utf8');
    for (const text of ['Post: its reach around Heron', 'Drawn 2026-11-25', 'too flat (wide)', 'To be kept in mind'])
      expect(svg).toContain(text);
    expect(stderr).toMatch(/Post around Heron: the worst finding, in times its rule/);
    expect(stderr).toMatch(/0\.0 .* 2\.5 fl/);
    for (const sentence of result.sentences) expect(sentence).not.toMatch(NO_VERDICT);
  });

  test('a picture too, and what --set changed stands on it', async () => {
    const { exitCode } = await reach([...SMALL, '--set', 'rockRadius=1500', '--map', 'out/r.svg']);
    expect(exitCode).toBe(0);
    expect(await readFile(join(folder(), 'r.svg'), 'utf8')).toContain('rockRadius = 1500');
    await reach([...SMALL, '--map', 'out/r.png']);
    expect([...(await readFile(join(folder(), 'r.png'))).subarray(1, 4)]).toEqual([...Buffer.from('PNG')]);
  });

  test('wider rules leave more of the map without findings, and limits each way', async () => {
    const wide = [
      'slopeDeg=9',
      'lengthwiseMm=12',
      'tipSqueezeMm=20',
      'edgeSharePercent=100',
      'pressurePointTimesMean=6',
      'spineForkMm=5',
      'spineAlongMm=2',
      'spineChannelMm=20',
    ]
      .map((rule) => `setup.rules.${rule}`)
      .concat('setup.limits.peakKPa=100');
    const { document } = await reach([...SMALL, ...wide.flatMap((value) => ['--set', value])]);
    const { result: narrow } = (await reach(SMALL)).document;
    expect(document.result.freeShare).toBeGreaterThan(narrow.freeShare + 0.15);
    expect(document.result.here.ratio).toBeLessThan(1);
    expect(document.result.limits).not.toBeNull();
    expect(document.result.error.share).toBeGreaterThan(0.95);
    expect(narrow.limits).toBeNull();
  });

  test.each([
    [['post.pattern.json'], 'usage', /missing required argument/],
    [[...PAIR, 'x'], 'usage', /too many arguments/],
    [['heron.back.json', 'post.pattern.json'], 'unknown-schema', /barwright\/pattern\/1/],
    [['post.pattern.json', 'nowhere.back.json'], 'missing', /a file of this name/],
    [[...PAIR, '--nodes', '6'], 'usage', /an odd number from 5 to 41/],
    [[...PAIR, '--nodes', '43'], 'usage', /an odd number/],
    [[...PAIR, '--nodes', '-5'], 'usage', /number|argument/],
    [[...PAIR, '--nodes', '1e1'], 'usage', /an odd number/],
    [[...PAIR, '--map', 'out/r.pdf'], 'unsupported', /\.svg or \.png/],
    [[...PAIR, '--map', 'nowhere/r.svg'], 'path', /a folder that exists/],
    [[...PAIR, '--out', 'heron.back.json'], 'path', /a file of its own/],
    [[...PAIR, '--out', 'out/same.svg', '--map', 'out/same.svg'], 'path', /a file of its own/],
    [[...PAIR, '--set', 'rockradius=5'], 'unknown-name', /rockRadius/],
    [[...PAIR, '--set', 'setup.samples=-1'], 'out-of-range', /200/],
  ])('refuses %j: %s, writing nothing', async (args, code, words) => {
    const { document, exitCode, stdout } = await reach(args);
    expect(exitCode).toBe(2);
    expect(document.error.code).toBe(code);
    expect(stdout).toMatch(words);
    expect(await readdir(folder())).toEqual([]);
  });
});
