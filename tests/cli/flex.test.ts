import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import {
  buildBack,
  buildTree,
  fitDocuments,
  type GiveStudy,
  resolvePattern,
  SETUP_DEFAULTS,
  studyGive,
} from '@barwright/geometry';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { FLEX_COLUMNS } from '../../packages/cli/src/output/flex-csv.ts';
import { exampleBack, examplePattern } from '../support/examples.ts';
import { asJson, NO_VERDICT, schemaErrors } from './results.ts';
import { COARSE, openWorkshop, type Workshop } from './run-command.ts';

let shop: Workshop;
const PAIR = ['post-layered.pattern.json', 'dumpling.back.json'];
const setup = { ...SETUP_DEFAULTS, samples: 400 };

beforeAll(async () => {
  shop = await openWorkshop();
});
afterAll(() => shop.close());

async function flex(args: readonly string[]) {
  const run = await shop.run(['flex', ...args]);
  return { ...run, document: JSON.parse(run.stdout) };
}

describe('barwright flex', () => {
  test('is the study itself, meets its schema, and gives every variant as a row', async () => {
    const run = await flex([...PAIR, ...COARSE, '--out', 'flex.json', '--csv', 'flex.csv']);
    expect(run.exitCode).toBe(0);
    const tree = buildTree(resolvePattern(examplePattern('post-layered')));
    const steps = studyGive(tree, buildBack(exampleBack('dumpling')), setup);
    let step = steps.next();
    while (step.done !== true) step = steps.next();
    expect(run.document.result).toEqual(asJson(step.value));
    expect(await schemaErrors(shop, 'flex-result', run.document)).toBeNull();
    const { parts, warmUp, cover }: GiveStudy = run.document.result;
    const rows = (await readFile(join(shop.folder, 'flex.csv'), 'utf8')).trim().split('\n');
    expect(rows[0]).toBe(FLEX_COLUMNS);
    expect(rows).toHaveLength(1 + parts.length + warmUp.minutes.length + warmUp.hours.length + cover.length);
    expect(await readFile(join(shop.folder, 'flex.json'), 'utf8')).toBe(run.stdout);
  });

  test('as built is what fit gives with flexible bars; the words hold no verdict and name what is assumed', async () => {
    const run = await flex([...PAIR, ...COARSE]);
    const { result } = fitDocuments({
      pattern: examplePattern('post-layered'),
      back: exampleBack('dumpling'),
      setup: { ...setup, flex: { ...setup.flex, bars: 'flexible' } },
    });
    expect(run.document.result.flexible.p95KPa).toBe(asJson(result.contact.p95PressureKPa));
    expect(run.stderr).toMatch(/does not fix bridging/);
    expect(run.stderr).toMatch(/PPI Handbook of PE Pipe/);
    expect(run.stderr).not.toMatch(NO_VERDICT);
    expect(run.document.warnings.map(({ field }: { field: string }) => field)).toContain('setup.flex.bars');
    expect(run.document.cautions.join(' ')).toMatch(/fatigue and damping are not modelled/);
  });

  test('a material that is not in the table is refused by name', async () => {
    const run = await shop.run([
      'flex',
      'post.pattern.json',
      'dumpling.back.json',
      '--set',
      'setup.layers.pad.material=felt',
    ]);
    expect(run.exitCode).toBe(2);
    expect(JSON.parse(run.stdout).error).toMatchObject({ code: 'unknown-name' });
  });

  test("a material's number set by key changes the result and is printed as one's own, with its source", async () => {
    const key = 'setup.materials.low density polyethylene';
    const own = ['--set', `${key}.alongMPa=300`, '--set', `${key}.source=our own strips`];
    const set = await shop.run(['fit', ...PAIR, ...COARSE, '--set', 'setup.flex.bars=flexible', ...own]);
    const table = fitDocuments(
      {
        pattern: examplePattern('post-layered'),
        back: exampleBack('dumpling'),
        setup: { ...setup, flex: { ...setup.flex, bars: 'flexible' } },
      },
      { detail: 'figures' },
    ).result;
    const { result } = JSON.parse(set.stdout);
    const tipOf = (materials: { part: string }[]) => materials.find(({ part }) => part === 'tip');
    expect(tipOf([...table.materials])).toMatchObject({ value: 200 });
    expect(tipOf(result.materials)).toMatchObject({
      ...{ value: 300, source: 'your value: our own strips', range: [69, 300] },
    });
    const moved = Math.abs(table.flex!.bars[0].tips[0].moveMm);
    expect(Math.abs(result.flex.bars[0].tips[0].moveMm)).toBeLessThan(0.9 * moved);
    expect(set.stderr.replace(/\s+/g, ' ')).toContain('your value: our own strips');
  });
});
