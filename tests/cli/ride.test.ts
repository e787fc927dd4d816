import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import {
  buildBack,
  buildTree,
  createCaseBacks,
  RIDING_SETS,
  type RidingCase,
  resolvePattern,
  rideCase,
  SETUP_DEFAULTS,
} from '@barwright/geometry';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { RIDE_COLUMNS } from '../../packages/cli/src/output/ride-csv.ts';
import { exampleBack, examplePattern } from '../support/examples.ts';
import { asJson, NO_VERDICT, schemaErrors } from './results.ts';
import { COARSE, openWorkshop, type Workshop } from './run-command.ts';

let shop: Workshop;
const PAIR = ['post.pattern.json', 'tuesday.back.json'];
const tree = buildTree(resolvePattern(examplePattern('post')));
const backs = createCaseBacks(buildBack(exampleBack('tuesday')));
const setup = { ...SETUP_DEFAULTS, samples: 400 };

beforeAll(async () => {
  shop = await openWorkshop();
  const own = {
    schema: 'barwright/riding/1',
    name: 'Our lane',
    cases: [
      { name: 'down to the ford', factor: 1.2, riseDeg: -20, legForward: 'left', source: 'assumed' },
      { name: 'up again, "quick"', factor: 2.5, riseDeg: 20, widenMm: 3 },
    ],
  };
  await writeFile(join(shop.folder, 'lane.riding.json'), JSON.stringify(own));
  const worse = { ...own, cases: [{ name: 'x', factor: 99 }] };
  await writeFile(join(shop.folder, 'worse.riding.json'), JSON.stringify(worse));
});
afterAll(() => shop.close());

async function ride(args: readonly string[]) {
  const run = await shop.run(['ride', ...args]);
  return { ...run, document: JSON.parse(run.stdout) };
}

/** What the geometry itself gives for a case, as a document holds it. */
function direct(riding: RidingCase): unknown {
  const { status, pose, load, reactions, contact, findings, coverage } = rideCase(tree, backs, setup, riding).fit
    .result;
  return asJson({
    case: riding,
    status,
    pose,
    load,
    reactions,
    contact,
    findings: findings.map(({ code, side, fromMm, toMm, sizeMm, sentence }) => ({
      ...{ code, side, fromMm, toMm, sizeMm, sentence },
    })),
    excludedFraction: coverage.excludedFraction,
  });
}

describe('a kind of riding', () => {
  test.each(['Trot work', 'standing in the stirrups'])('%s: every case as the geometry gives it', async (name) => {
    const { document, exitCode, stderr } = await ride([...PAIR, ...COARSE, '--riding', name]);
    expect(exitCode).toBe(0);
    expect(await schemaErrors(shop, 'ride-result', document)).toBeNull();
    const set = RIDING_SETS.find((one) => one.name.toLowerCase() === name.toLowerCase())!;
    expect(document.result).toEqual({ riding: set.name, cases: set.cases.map(direct) });
    const said = stderr.replace(/\s+/g, ' ');
    for (const { name: one, source } of set.cases) {
      expect(said).toContain(one);
      expect(said).toContain(`Source: ${source}.`);
    }
    expect(stderr).not.toMatch(NO_VERDICT);
    expect(JSON.stringify([document.result, document.warnings])).not.toMatch(NO_VERDICT);
  });

  test('of your own comes from a file, which is named among the inputs; a row for every case', async () => {
    const args = [...PAIR, ...COARSE, '--riding', 'lane.riding.json', '--csv', 'lane.csv', '--out', 'lane.json'];
    const { document, stdout } = await ride(args);
    expect(await schemaErrors(shop, 'ride-result', document)).toBeNull();
    expect(document.inputs.map(({ role }: { role: string }) => role)).toEqual(['pattern', 'back', 'riding']);
    expect(document.result.cases).toEqual(document.result.cases.map((one: { case: RidingCase }) => direct(one.case)));
    expect(document.result.cases[1].case.source).toBe('assumed, no source');
    expect(await readFile(join(shop.folder, 'lane.json'), 'utf8')).toBe(stdout);
    const [head, first, second, ...more] = (await readFile(join(shop.folder, 'lane.csv'), 'utf8')).trim().split('\n');
    expect([head, more]).toEqual([RIDE_COLUMNS, []]);
    expect(first!.split(',').slice(0, 4)).toEqual([
      '"down to the ford"',
      '"settled"',
      String(document.result.cases[0].load.appliedN),
      String(document.result.cases[0].contact.meanPressureKPa),
    ]);
    expect(second).toContain('"up again, ""quick"""');
  });

  test('the list is the sets there are, each a riding document that gives the same by its file as by its name', async () => {
    const list = await ride(['--riding', 'list']);
    expect(list.exitCode).toBe(0);
    expect(await schemaErrors(shop, 'riding-sets', list.document)).toBeNull();
    expect(list.document.result.sets).toEqual(asJson(RIDING_SETS));
    for (const set of list.document.result.sets) expect(await schemaErrors(shop, 'riding', set)).toBeNull();
    const [standing] = list.document.result.sets;
    await writeFile(join(shop.folder, 'kept.riding.json'), JSON.stringify(standing));
    const byFile = await ride([...PAIR, ...COARSE, '--riding', 'kept.riding.json']);
    const byName = await ride([...PAIR, ...COARSE, '--riding', standing.name]);
    expect(byFile.document.result).toEqual(byName.document.result);
  });

  test("a setup's own factor, ground and legs count for nothing, and that is said", async () => {
    const args = [...PAIR, ...COARSE, '--riding', 'Standing'];
    const more = ['setup.load.factor=2.5', 'setup.load.riseDeg=10', 'setup.legForward=both'];
    const { document } = await ride([...args, ...more.flatMap((change) => ['--set', change])]);
    const plain = await ride(args);
    expect(document.result).toEqual(plain.document.result);
    expect(document.warnings.map(({ field }: { field: string }) => field).sort()).toEqual([
      ...plain.document.warnings.map(({ field }: { field: string }) => field),
      ...['setup.legForward', 'setup.load.factor', 'setup.load.riseDeg'],
    ]);
    const heavier = await ride([...args, '--set', 'setup.load.riderKg=104']);
    expect(heavier.document.result.cases[0].load.appliedN).toBeCloseTo(119 * 9.80665, 8);
  });

  test('check says what is in a riding document', async () => {
    const { stdout, exitCode } = await shop.run(['check', 'lane.riding.json']);
    const document = JSON.parse(stdout);
    expect(exitCode).toBe(0);
    expect(await schemaErrors(shop, 'check-result', document)).toBeNull();
    expect(document.result).toMatchObject({ kind: 'riding', values: { 'case 1': 'down to the ford (assumed)' } });
  });
});

describe('refusals', () => {
  test.each([
    [['--riding', 'trott work'], 'unknown-name', '--riding', null],
    [['--riding', 'absent.riding.json'], 'missing', null, 'absent.riding.json'],
    [['--riding', 'post.pattern.json'], 'unknown-schema', 'schema', 'post.pattern.json'],
    [['--riding', 'heavy.rider.json'], 'unknown-schema', 'schema', 'heavy.rider.json'],
    [['--riding', 'worse.riding.json'], null, 'cases.0.factor', 'worse.riding.json'],
    [['--riding', 'lane.riding.json', '--out', 'lane.riding.json'], 'path', '--out', 'lane.riding.json'],
  ])('%j', async (args, code, field, file) => {
    const { document, exitCode } = await ride([...PAIR, ...COARSE, ...args]);
    expect(exitCode).toBe(2);
    if (code !== null) expect(document.error.code).toBe(code);
    expect([document.error.field, document.error.file]).toEqual([field, file]);
  });

  test('a misspelt kind is answered with the near one', async () => {
    const { document } = await ride([...PAIR, '--riding', 'Trot wrok']);
    expect(document.error.remedy).toContain('Trot work');
  });

  test('files left out, swapped, or a list to a file', async () => {
    expect((await ride([])).document.error).toMatchObject({ code: 'usage', field: 'ride' });
    expect((await ride([PAIR[0]!])).document.error).toMatchObject({ code: 'usage', field: 'ride' });
    expect((await ride([PAIR[1]!, PAIR[0]!])).document.error).toMatchObject({ file: PAIR[1] });
    expect((await ride(['--riding', 'list', '--out', 'l.json'])).document.error).toMatchObject({ field: '--out' });
    expect(await readdir(shop.folder)).not.toContain('l.json');
  });
});
