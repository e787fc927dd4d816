import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import {
  buildBack,
  buildTree,
  resolvePattern,
  rideStride,
  SETUP_DEFAULTS,
  seatTree,
  solveTip,
  strideOf,
  tipFigures,
} from '@barwright/geometry';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { SHOULDER_COLUMNS } from '../../packages/cli/src/output/shoulder-csv.ts';
import { exampleBack, examplePattern } from '../support/examples.ts';
import { asJson, NO_VERDICT, schemaErrors } from './results.ts';
import { COARSE, openWorkshop, type Workshop } from './run-command.ts';

let shop: Workshop;
const PAIR = ['post.pattern.json', 'tuesday.back.json'];
const tree = buildTree(resolvePattern(examplePattern('post')));
const standing = buildBack(exampleBack('tuesday'));
const setup = { ...SETUP_DEFAULTS, samples: 400 };

beforeAll(async () => {
  shop = await openWorkshop();
});
afterAll(() => shop.close());
beforeEach(async () => {
  await rm(join(shop.folder, 'out'), { recursive: true, force: true });
  await mkdir(join(shop.folder, 'out'));
});

async function shoulder(args: readonly string[]) {
  const run = await shop.run(['shoulder', ...args]);
  return { ...run, document: JSON.parse(run.stdout) };
}

describe('a stride', () => {
  test('is the geometry called directly, number for number, and so is the same crept forward', async () => {
    const flags = ['--phases', '6', '--swing', '1 1/2 in', '--rise', '3', '--creep', '25'];
    const { document, exitCode, stdout, stderr } = await shoulder([
      ...[...PAIR, ...COARSE, ...flags],
      ...['--out', 'out/s.json', '--csv', 'out/s.csv'],
    ]);
    expect(exitCode).toBe(0);
    expect(await schemaErrors(shop, 'shoulder-result', document)).toBeNull();
    const { result } = document;
    const stride = strideOf(standing, { phases: 6, swingLeftMm: 1.5 * 25.4, swingRightMm: 1.5 * 25.4, riseMm: 3 });
    expect(result.stride).toEqual(stride);
    expect(result.blades).toEqual(standing.blades);
    const own = rideStride(tree, standing, setup, stride);
    expect(result.phases).toEqual(asJson(own.phases));
    expect(result.tips).toEqual(asJson(own.tips));
    const crept = rideStride(tree, standing, { ...setup, setPositionMm: setup.setPositionMm - 25 }, stride);
    expect(result.crept.phases).toEqual(asJson(crept.phases));
    expect(result.crept.creepMm).toBe(25);
    expect(result.crept.setPositionMm).toBe(setup.setPositionMm - 25);
    expect(await readFile(join(shop.folder, 'out/s.json'), 'utf8')).toBe(stdout);
    expect(stderr).toContain('Crept forward 25 mm, beside it');
    const [head, ...rows] = (await readFile(join(shop.folder, 'out/s.csv'), 'utf8')).trim().split('\n');
    expect(head).toBe(SHOULDER_COLUMNS);
    expect(rows).toHaveLength(2 * (1 + 6));
    for (const row of rows) expect(row.split(',')).toHaveLength(SHOULDER_COLUMNS.split(',').length);
    expect(Number(rows[1]!.split(',')[10])).toBe(own.phases[0]!.supportedN);
  });

  test('standing is a seating of its own on the standing back, and the worst moments are those of all', async () => {
    const { document, stderr } = await shoulder([...PAIR, ...COARSE, '--phases', '8']);
    const { result } = document;
    const seated = seatTree(tree, standing, setup);
    expect(result.standing.tips).toEqual(asJson(tipFigures(seated)));
    expect(result.standing.heightMm).toBe(seated.seat.pose.zMm);
    expect([result.standing.bladeLeftMm, result.standing.bladeRightMm]).toEqual([0, 0]);
    const least = (tip: Record<string, number>): number =>
      Math.min(tip.innerGapMm!, tip.bearingGapMm!, tip.outerGapMm!);
    const tips = result.phases.flatMap((p: { tips: Record<string, number>[] }) => p.tips);
    expect(result.worst.leastGapMm).toBe(Math.min(...tips.map(least)));
    const pressures = tips.map((tip: Record<string, number>) => tip.highestPressureKPa!);
    expect(result.worst.highestPressureKPa).toBe(Math.max(...pressures));
    const side = result.worst.leastGapSide === 'left' ? 0 : 1;
    expect(result.worst.leastGapStandingMm).toBe(least(result.standing.tips[side]));
    for (const { supportedN, appliedN } of result.phases)
      expect(Math.abs(supportedN / appliedN - 1)).toBeLessThan(1e-6);
    expect(result.crept).toBeNull();
    expect(result.clear).toBeNull();
    expect(stderr).toMatch(/come closest at phase 0\.\d+ .* standing/s);
    expect(stderr.replace(/\s+/g, ' ')).toContain('common practice, no source: with the leg forward 5 mm');
    expect(stderr).not.toMatch(NO_VERDICT);
    expect(JSON.stringify([result, document.warnings])).not.toMatch(NO_VERDICT);
  });

  test('stands where the horse stood, whatever legs the setup has forward, and says so', async () => {
    await writeFile(join(shop.folder, 'legs.setup.json'), '{"schema": "barwright/setup/1", "legForward": "both"}');
    const forward = await shoulder([...PAIR, ...COARSE, '--phases', '4', '--setup', 'legs.setup.json']);
    const plain = await shoulder([...PAIR, ...COARSE, '--phases', '4']);
    expect(forward.document.result).toEqual(plain.document.result);
    expect(forward.document.warnings.map((w: { field: string }) => w.field)).toContain('setup.legForward');
    expect(plain.document.warnings.map((w: { field: string }) => w.field)).not.toContain('setup.legForward');
  });

  test('a back that says nothing of its blades gets assumed ones, and that is said', async () => {
    const scan = JSON.parse(await readFile(join(shop.folder, 'tuesday-scan.back.json'), 'utf8'));
    const { bladeBulge: _, bladeSwingMm: __, ...bare } = scan;
    await writeFile(join(shop.folder, 'bare.back.json'), JSON.stringify(bare));
    const { document, stderr } = await shoulder([PAIR[0]!, 'bare.back.json', ...COARSE, '--phases', '2']);
    expect(document.result.blades.assumed).toEqual(['height', 'swing']);
    expect(document.warnings.find((w: { field: string }) => w.field === 'back.blades').sentence).toContain('assumed');
    expect(stderr.replace(/\s+/g, ' ')).toContain("assumed: an average horse's, the back says nothing");
  });
});

describe('the lift solved', () => {
  test('is what the geometry solves, zone by zone, with its price, and progress is told', async () => {
    const args = [...PAIR, ...COARSE, '--phases', '4', '--clear', '5', '--zones', '55,95'];
    const { document, stderr } = await shoulder(args);
    expect(await schemaErrors(shop, 'shoulder-result', document)).toBeNull();
    const stride = strideOf(standing, { phases: 4 });
    const solved = solveTip(tree, standing, setup, stride, { wantedMm: 5, zonesMm: [55, 95] });
    expect(document.result.clear).toEqual(asJson(solved));
    for (const { option } of document.result.clear.options) expect(option.leastGapMm).toBeGreaterThanOrEqual(5);
    expect(stderr).toContain('2/2  solving the lift for a zone of 95 mm');
    expect(stderr).toMatch(/zone mm +lift mm +least gap mm +under tips kPa +bearing cm2 +contact cm2/);
  });

  test('where no lift reaches what is wanted, that is said and none is given', async () => {
    const args = [...PAIR, ...COARSE, '--phases', '2', '--clear', '60', '--zones', '20'];
    const { document, stderr } = await shoulder(args);
    expect(document.result.clear.options).toEqual([{ zoneMm: 20, option: null }]);
    expect(stderr).toContain('no lift up to 80 mm leaves so much');
  });
});

describe('conditions', () => {
  test.each([
    ['worst.leastGapMm>=-60', 0],
    ['worst.leastGapMm>=60', 1],
    ['worst.highestPressureKPa<1 psi', 1],
    ['standing.contact.p95PressureKPa<100 psi', 0],
    ['status=settled', 0],
    ['status!=settled', 1],
    ['crept.worst.leastGapMm>0', 2],
    ['bridging<3', 2],
  ])('%s ends with %i', async (condition, code) => {
    const { exitCode, document } = await shoulder([...PAIR, ...COARSE, '--phases', '2', '--require', condition]);
    expect(exitCode).toBe(code);
    if (code < 2) expect(document.requirements[0].met).toBe(code === 0);
    else expect(document.schema).toBe('barwright/error/1');
  });
});

describe('refusals', () => {
  test.each([
    [['--phases', '-3'], 'out-of-range', '--phases'],
    [['--phases', '1e9'], null, '--phases'],
    [['--phases', '100000'], 'out-of-range', '--phases'],
    [['--phases', '3.5'], 'out-of-range', '--phases'],
    [['--phases', 'many'], 'syntax', '--phases'],
    [['--swing', '-10'], 'out-of-range', '--swing'],
    [['--swing', '2 m'], 'out-of-range', '--swing'],
    [['--swing', '3 kg'], 'wrong-unit', '--swing'],
    [['--rise', '-1'], 'out-of-range', '--rise'],
    [['--creep', '300'], 'out-of-range', '--creep'],
    [['--creep', '90', '--set', 'setup.setPositionMm=-150'], 'usage', '--creep'],
    [['--clear', 'some'], 'syntax', '--clear'],
    [['--zones', '55'], 'usage', '--zones'],
    [['--clear', '5', '--zones', '55,55'], 'usage', '--zones'],
    [['--clear', '5', '--zones', '55,'], null, '--zones'],
    [['--clear', '5', '--zones', '5000'], 'out-of-range', '--zones'],
    [['--csv', 'tuesday.back.json'], 'path', '--csv'],
    [['--out', 'out/x', '--csv', 'out/x'], 'path', '--csv'],
  ])('%j', async (args, code, field) => {
    const { exitCode, document } = await shoulder([...PAIR, ...COARSE, ...args]);
    expect(exitCode).toBe(2);
    if (code !== null) expect(document.error.code).toBe(code);
    expect(document.error.field).toBe(field);
    expect(await readdir(join(shop.folder, 'out'))).toEqual([]);
  });

  test('pattern and back swapped, a rider for a back', async () => {
    expect((await shoulder([PAIR[1]!, PAIR[0]!])).document.error).toMatchObject({
      code: 'unknown-schema',
      file: PAIR[1],
    });
    const { error } = (await shoulder([PAIR[0]!, 'heavy.rider.json'])).document;
    expect(error).toMatchObject({ code: 'unknown-schema', file: 'heavy.rider.json' });
  });
});
