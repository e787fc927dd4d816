import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { readMesh } from '@barwright/geometry';
import Ajv2020 from 'ajv/dist/2020.js';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { COARSE, openWorkshop, type Workshop } from './run-command.ts';

let shop: Workshop;
let checkResult: (document: unknown) => unknown;

beforeAll(async () => {
  shop = await openWorkshop();
  const schema = JSON.parse((await shop.run(['schema', 'back-result'])).stdout);
  const validate = new Ajv2020({ strict: true, strictRequired: false, strictTuples: false }).compile(schema);
  checkResult = (document) => (validate(document) ? null : validate.errors);
});
afterAll(() => shop.close());

const SCAN = 'tuesday-scan.ply';
const SAID = ['--unit', 'm', '--tail', '-x', '--up', '+z', '--on', '2026-10-14'];
const folder = (): string => join(shop.folder, 'out');
const back = async (...args: string[]) => {
  const run = await shop.run(['back', ...args]);
  return { ...run, document: JSON.parse(run.stdout) };
};
const written = async (name: string) => JSON.parse(await readFile(join(folder(), name), 'utf8'));

beforeEach(async () => {
  await rm(folder(), { recursive: true, force: true });
  await mkdir(folder());
});

describe('back on a scan', () => {
  test('without a word it proposes, gives reasons, writes nothing and ends with 1', async () => {
    const { document, exitCode, stderr } = await back(SCAN, '--out', 'out/t.back.json');
    expect(exitCode).toBe(1);
    expect(checkResult(document)).toBeNull();
    const { result } = document;
    expect(result.toConfirm).toEqual(['unit', 'up', 'tail', 'right', 'measured.on']);
    expect([result.proposal.unit.value, result.proposal.tail.value, result.proposal.right.value]).toEqual([
      'm',
      '-x',
      '-y',
    ]);
    expect(result).toMatchObject({ document: null, written: [] });
    expect(await readdir(folder())).toEqual([]);
    expect(stderr).toMatch(/To confirm: unit, up, tail, right, measured\.on/);
    expect(stderr).toMatch(/look\s+like hair/);
    expect(document.result.cleaning.find(({ step }: { step: string }) => step === 'hair').changed).toBeGreaterThan(2);
  });

  test('accepted proposals give a document that fits beside a copy of the scan, landmarks marked as proposed', async () => {
    const { document, exitCode } = await back(SCAN, '--out', 'out/t.back.json', '--accept-proposals');
    expect(exitCode).toBe(0);
    expect(checkResult(document)).toBeNull();
    expect(document.result.written).toEqual(['t.back.json', SCAN]);
    expect((await readdir(folder())).sort()).toEqual(['t.back.json', SCAN]);
    expect(await readFile(join(folder(), SCAN))).toEqual(await readFile(join(shop.folder, SCAN)));
    expect((await written('t.back.json')).proposedLandmarks).toHaveLength(5);
    const fit = await shop.run(['fit', 'post.pattern.json', 'out/t.back.json', ...COARSE]);
    expect(JSON.parse(fit.stdout).result.load.supportedN).toBeGreaterThan(900);
    // The same again finds its own copy beside the document.
    expect((await back(SCAN, '--out', 'out/t.back.json', '--accept-proposals')).document.result.written).toEqual([
      't.back.json',
    ]);
  });

  test('said values need no acceptance; marks are kept, and what nobody marked is left out', async () => {
    const marks = JSON.parse(await readFile(join(shop.folder, 'tuesday-scan.back.json'), 'utf8')).landmarks;
    const given = Object.entries(marks as Record<string, number[]>).flatMap(([name, p]) => [
      '--landmark',
      `${name}=${p.join(',')}`,
    ]);
    const { document, exitCode } = await back(SCAN, '--out', 'out/t.back.json', ...SAID, ...given);
    expect(exitCode).toBe(0);
    const doc = await written('t.back.json');
    expect(doc).toMatchObject({ unit: 'm', axes: { tail: '-x', right: '-y', up: '+z' }, landmarks: marks });
    expect(Object.keys(doc)).not.toContain('proposedLandmarks');
    expect(document.warnings.map(({ sentence }: { sentence: string }) => sentence).join(' ')).toMatch(
      /Not marked.*lowPoint/,
    );
    expect(document.result.remeasure.onIso).toBe('2026-12-14');
  });

  test('the owner is kept in the document and told to nobody', async () => {
    const record = ['--owner', 'Ada Someone', '--horse', 'Tuesday', '--surface', 'bare', '--how', 'handheld scanner'];
    const { stdout, stderr, exitCode } = await back(SCAN, '--out', 'out/t.back.json', ...SAID, ...record);
    expect(exitCode).toBe(0);
    expect(stdout + stderr).not.toContain('Someone');
    expect((await written('t.back.json')).record).toEqual({
      ...{ owner: 'Ada Someone', horse: 'Tuesday', surface: 'bare', how: 'handheld scanner' },
    });
  });

  test.each([
    [['--out', 'out/t.json', ...SAID], /ends in \.back\.json/],
    [['--out', 'nowhere/t.back.json', ...SAID], /a folder that exists/],
    [[...SAID, '--landmark', 'croup=1,2,3'], /name=x,y,z/],
    [[...SAID, '--landmark', 'lastRib=1,2'], /name=x,y,z/],
    [['--right', '+y', ...SAID], /axes\.right/],
    [['--out', 'out/t.back.json', ...SAID, '--on', '2026-02-30'], /a day of the calendar/],
    [[...SAID, '--owner', 'Ada'], /--surface/],
    [[...SAID, '--uncertainty-mm', '-1'], /from 0 to 50/],
    [[...SAID, '--answer', 'a=b'], /--answer/],
    [['--tail', 'x'], /Allowed choices/],
  ])('refuses %j with its reason, writing nothing', async (args, words) => {
    const { exitCode, stderr } = await back(SCAN, ...args);
    expect(exitCode).toBe(2);
    expect(stderr).toMatch(words);
    expect(await readdir(folder())).toEqual([]);
  });

  test('--clean writes the steps into the document, says what each did, and leaves the scan as it is', async () => {
    const { document, exitCode, stderr } = await back(
      SCAN,
      '--out',
      'out/t.back.json',
      ...SAID,
      '--clean',
      'spikes,hair',
    );
    expect(exitCode).toBe(0);
    expect(checkResult(document)).toBeNull();
    expect((await written('t.back.json')).cleaning).toEqual(['spikes', 'hair']);
    expect(document.result.cleaning.map((c: Record<string, unknown>) => [c.step, c.applied])).toEqual([
      ['spikes', true],
      ['hair', true],
    ]);
    expect(stderr).toMatch(/no point that stays moved by more than 0\.0 mm/);
    expect(document.warnings.map(({ sentence }: { sentence: string }) => sentence).join(' ')).toMatch(
      /Cleaned as the document asks \(hair\): \d+ small patches/,
    );
    expect(await readFile(join(folder(), SCAN))).toEqual(await readFile(join(shop.folder, SCAN)));
    const all = await back(SCAN, ...SAID, '--clean');
    expect(all.document.result.document.cleaning).toHaveLength(7);
    for (const bad of ['hair,hair', 'shave']) expect((await back(SCAN, ...SAID, '--clean', bad)).exitCode).toBe(2);
  });

  test('blade edges on the wrong sides are asked about, accepted or not; each answer makes another document', async () => {
    const { landmarks } = JSON.parse(await readFile(join(shop.folder, 'tuesday-scan.back.json'), 'utf8'));
    const mark = (name: string, p: number[]): string[] => ['--landmark', `${name}=${p.join(',')}`];
    const args = [
      ...[SCAN, '--out', 'out/t.back.json', '--on', '2026-10-14', '--accept-proposals'],
      ...mark('bladeEdgeLeft', landmarks.bladeEdgeRight),
      ...mark('bladeEdgeRight', landmarks.bladeEdgeLeft),
      ...mark('withersTop', landmarks.withersTop),
      ...mark('lastRib', landmarks.lastRib),
    ];
    const open = await back(...args);
    expect([open.exitCode, open.document.result.toConfirm]).toEqual([1, ['answers.sides']]);
    expect(checkResult(open.document)).toBeNull();
    expect(open.stderr).toMatch(/Question sides:.*wrong sides/s);
    expect(await readdir(folder())).toEqual([]);
    expect((await back(...args, '--answer', 'sides=mirrored')).exitCode).toBe(0);
    const mirrored = await written('t.back.json');
    expect(mirrored).toMatchObject({ mirrored: true, axes: { tail: '-x', right: '+y', up: '+z' } });
    await rm(join(folder(), 't.back.json'));
    expect((await back(...args, '--answer', 'sides=names-swapped')).exitCode).toBe(0);
    const swapped = await written('t.back.json');
    expect(swapped).toMatchObject({ axes: { right: '-y' }, landmarks: { bladeEdgeLeft: landmarks.bladeEdgeLeft } });
    expect('mirrored' in swapped).toBe(false);
    expect((await back(...args, '--answer', 'sides=maybe')).exitCode).toBe(2);
    expect((await back(...args, '--mirrored')).exitCode).toBe(0);
  });

  test.each(['cloud.xyz', 'cloud.csv'])('%s: points become a back that fits, and check counts them', async (name) => {
    const { positions } = meshOfScan(await readFile(join(shop.folder, SCAN)));
    const lines = positions.map((p) => p.join(name.endsWith('csv') ? ',' : ' '));
    await writeFile(join(shop.folder, name), `${name.endsWith('csv') ? 'x,y,z\n' : ''}${lines.join('\n')}\n`);
    const made = await back(name, '--out', 'out/cloud.back.json', '--accept-proposals', '--point-spacing', '0.012');
    expect(made.exitCode).toBe(0);
    expect(checkResult(made.document)).toBeNull();
    expect(await written('cloud.back.json')).toMatchObject({
      ...{ unit: 'm', axes: { tail: '-x', right: '-y', up: '+z' }, pointSpacing: 0.012, mesh: name },
    });
    expect(made.stderr).toMatch(/surface was made of \d+ points/);
    const fit = await shop.run(['fit', 'post.pattern.json', 'out/cloud.back.json', ...COARSE]);
    expect(JSON.parse(fit.stdout).result.load.supportedN).toBeGreaterThan(900);
    const checked = await shop.run(['check', name]);
    expect(JSON.parse(checked.stdout).result.mesh).toMatchObject({
      ...{ kind: 'points', vertices: positions.length, triangles: 0, medianEdge: null, format: 'xyz' },
    });
    await writeFile(join(shop.folder, name), `${lines.slice(0, 900).join('\n')}\n`);
    expect((await back(name)).stderr).toMatch(/at least 1000 points/);
  });

  test('another file of the name beside the document is not overwritten', async () => {
    await writeFile(join(folder(), SCAN), 'something else');
    const { exitCode, stderr } = await back(SCAN, '--out', 'out/t.back.json', ...SAID);
    expect(exitCode).toBe(2);
    expect(stderr).toMatch(/another file of this name/);
    expect(await readdir(folder())).toEqual([SCAN]);
  });
});

/** Points of the demo scan. */
function meshOfScan(bytes: Buffer): { positions: number[][] } {
  const { mesh } = readMesh(bytes, SCAN);
  const count = mesh.positions.length / 3;
  return { positions: Array.from({ length: count }, (_, i) => [...mesh.positions.subarray(3 * i, 3 * i + 3)]) };
}

describe('back on tracings', () => {
  const csv = async (): Promise<void> => {
    const rows = [0, 100, 200, 300, 400, 500].flatMap((x) =>
      Array.from({ length: 33 }, (_, i) => {
        const y = -200 + 12.5 * i;
        const z = (x - 250) ** 2 / 2900 + 0.5 * (120 - Math.sqrt(y * y + 900)) + 0.0008 * (120 * 120 - y * y);
        return `s${x},${x},${y},${z.toFixed(2)}`;
      }),
    );
    await writeFile(join(shop.folder, 'tuesday.csv'), ['curve,x,y,z', ...rows].join('\n'));
  };

  test('a CSV says no unit: it has to be given, and accepting does not guess it', async () => {
    await csv();
    const { document, exitCode } = await back('tuesday.csv', '--out', 'out/c.back.json', '--accept-proposals');
    expect(exitCode).toBe(1);
    expect(checkResult(document)).toBeNull();
    expect(document.result.toConfirm).toContain('unit');
    expect(await readdir(folder())).toEqual([]);
  });

  test('with its unit it becomes a document that fits', async () => {
    await csv();
    const { document, exitCode } = await back(
      'tuesday.csv',
      '--out',
      'out/c.back.json',
      '--unit',
      'mm',
      '--on',
      '2026-10-14',
    );
    expect({ exitCode, open: document.result.toConfirm }).toEqual({ exitCode: 0, open: [] });
    expect((await written('c.back.json')).curves).toHaveLength(6);
    const fit = await shop.run(['fit', 'post.pattern.json', 'out/c.back.json', ...COARSE]);
    expect(JSON.parse(fit.stdout).result.contact.areaCm2).toBeGreaterThan(100);
  });

  test('a document of sections is ready as it is', async () => {
    const { exitCode, stderr } = await back('dumpling.back.json', '--out', 'out/d.back.json');
    expect(exitCode).toBe(2);
    expect(stderr).toMatch(/tracings, or a scan/);
  });
});
