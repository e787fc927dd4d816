import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { copyFile, mkdir, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import {
  buildBack,
  heldPressureKPa,
  readRider,
  readShelf,
  SETUP_DEFAULTS,
  type SizeResult,
  sizeShelf,
  TIME_CURVE_CAUTION,
} from '@barwright/geometry';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { SIZE_COLUMNS } from '../../packages/cli/src/output/size-csv.ts';
import { exampleBack, examplePattern } from '../support/examples.ts';
import { asJson, NO_VERDICT, schemaErrors } from './results.ts';
import { openWorkshop, type Workshop } from './run-command.ts';

let shop: Workshop;
type Shelf = Record<string, unknown> & { widths: { label: string }[]; tips: { label: string }[] };
let whole: Shelf;
let rider: Record<string, unknown>;
const COARSE = ['--samples', '400'];

beforeAll(async () => {
  shop = await openWorkshop();
  whole = JSON.parse(await readFile(join(shop.folder, 'quillback-lane.shelf.json'), 'utf8'));
  rider = JSON.parse(await readFile(join(shop.folder, 'heavy.rider.json'), 'utf8'));
  await put('two.shelf.json', shortShelf());
  await put('trot.rider.json', { ...rider, riding: 'Trot work' });
});
afterAll(() => shop.close());
beforeEach(async () => {
  await rm(join(shop.folder, 'out'), { recursive: true, force: true });
  await mkdir(join(shop.folder, 'out'));
});

const put = (name: string, document: unknown): Promise<void> =>
  writeFile(join(shop.folder, name), JSON.stringify(document));

/** Two seats, two widths and one tip of the demo shelf. */
const shortShelf = (more: Record<string, unknown> = {}): Shelf => ({
  ...whole,
  seats: ['17 in', '18 in'],
  widths: whole.widths.filter(({ label }) => label !== 'flat'),
  tips: whole.tips.filter(({ label }) => label === 'lifted tips'),
  ...more,
});

async function size(args: readonly string[]) {
  const run = await shop.run(['size', ...args]);
  return { ...run, document: JSON.parse(run.stdout) };
}

function direct(shelf: unknown, who: unknown, back: string): SizeResult {
  const run = sizeShelf({
    rider: readRider(who),
    shelf: readShelf(shelf),
    pattern: examplePattern('post'),
    back: buildBack(exampleBack(back)),
    setup: { ...SETUP_DEFAULTS, samples: 400 },
  });
  for (let step = run.next(); ; step = run.next()) if (step.done) return step.value;
}

describe('a shelf', () => {
  test('is the geometry called directly, number for number; a row for every tree, in both files', async () => {
    const files = ['trot.rider.json', 'two.shelf.json', 'heron.back.json'];
    const args = [...files, ...COARSE, '--out', 'out/s.json', '--csv', 'out/s.csv'];
    const { document, exitCode, stdout, stderr } = await size(args);
    expect(exitCode).toBe(0);
    expect(await schemaErrors(shop, 'size-result', document)).toBeNull();
    const { result } = document;
    const wanted = direct(shortShelf(), { ...rider, riding: 'Trot work' }, 'heron');
    expect(result.rows).toEqual(asJson(wanted.rows));
    expect(result.seatRange).toEqual(asJson(wanted.seatRange));
    expect([result.closest, result.needed]).toEqual([wanted.closest, wanted.needed]);
    expect(result).toMatchObject({ status: 'complete', samples: 400, shelf: { name: 'Quillback Lane', trees: 4 } });
    expect(document.inputs.map(({ role, file }: Record<string, string>) => [role, file])).toEqual([
      ['rider', 'trot.rider.json'],
      ['shelf', 'two.shelf.json'],
      ['pattern', 'post.pattern.json'],
      ['back', 'heron.back.json'],
    ]);
    expect(await readFile(join(shop.folder, 'out/s.json'), 'utf8')).toBe(stdout);
    const [head, ...rows] = (await readFile(join(shop.folder, 'out/s.csv'), 'utf8')).trim().split('\n');
    expect(head).toBe(SIZE_COLUMNS);
    expect(rows.map((row) => row.split(',').slice(0, 4))).toEqual(
      wanted.rows.map((row) => [`"${row.seat}"`, String(row.seatMm), `"${row.width}"`, `"${row.tip}"`]),
    );
    for (const i of [1, 2, 3, 4]) expect(stderr).toContain(`${i}/4  `);
  });

  test('in another order gives the same result', async () => {
    const turned = shortShelf();
    await put('turned.shelf.json', { ...turned, seats: ['18 in', '17 in'], widths: [...turned.widths].reverse() });
    const [one, other] = [
      await size(['heavy.rider.json', 'two.shelf.json', 'heron.back.json', ...COARSE]),
      await size(['heavy.rider.json', 'turned.shelf.json', 'heron.back.json', ...COARSE]),
    ];
    expect(other.document.result).toEqual(one.document.result);
    expect(other.stderr.slice(other.stderr.indexOf('Every tree'))).toBe(
      one.stderr.slice(one.stderr.indexOf('Every tree')),
    );
  });

  test('the example of the help: closest named, a reason for each other tree, capacity never as permission', async () => {
    const help = (await shop.run(['size', '--help'])).stdout;
    const names = /barwright size (.*)/.exec(help.slice(help.indexOf('Example')))![1]!.replaceAll('examples/', '');
    const { document, exitCode, stderr } = await size([...names.split(' '), '--samples', '300']);
    expect(exitCode).toBe(0);
    const { rows, closest, heldPressure } = document.result;
    expect(rows).toHaveLength(30);
    expect(rows.filter(({ reason }: { reason: string | null }) => reason === null)).toEqual([rows[closest]]);
    const said = stderr.replace(/\s+/g, ' ');
    expect(said).toContain(`Closest of this rider's seats: ${closest + 1}. 18 in steep, lifted tips.`);
    const kg = rows[closest].capacity.withPad.firstN / 9.80665;
    expect(said).toContain(`It bears ${(kg / 0.45359237).toFixed(0)} lb (${kg.toFixed(0)} kg)`);
    expect(said).toContain('not permission for a rider of that weight');
    for (const { reason } of rows) if (reason !== null) expect(said).toContain(reason.replace(/\s+/g, ' '));
    expect(heldPressure.caution).toBe(TIME_CURVE_CAUTION);
    for (const { hours, pressureKPa } of heldPressure.curve) expect(pressureKPa).toBe(heldPressureKPa(hours));
    expect(said).toContain(TIME_CURVE_CAUTION);
    expect(`${help}${stderr}`).not.toMatch(NO_VERDICT);
    expect(JSON.stringify([document.result, document.warnings])).not.toMatch(NO_VERDICT);
  });

  test('where nothing is near, it says what it would take', async () => {
    const { document, stderr } = await size(['heavy.rider.json', 'two.shelf.json', 'dumpling.back.json', ...COARSE]);
    expect(document.result.closest).toBeNull();
    expect(document.result.needed.length).toBeGreaterThan(2);
    const said = stderr.replace(/\s+/g, ' ');
    expect(said).toContain('Nothing on this shelf is near this back.');
    for (const need of document.result.needed) expect(said).toContain(need);
    for (const { reason } of document.result.rows) expect(typeof reason).toBe('string');
  });

  test("where every tree leaves the data, it can't be told, and nothing is said of what the trees bear", async () => {
    const heron = JSON.parse(await readFile(join(shop.folder, 'heron.back.json'), 'utf8'));
    const upTo = heron.stationsMm.filter((x: number) => x <= 300).length;
    const cut = (value: unknown): unknown =>
      Array.isArray(value) && value.length === heron.stationsMm.length ? value.slice(0, upTo) : value;
    await put('cut.back.json', Object.fromEntries(Object.entries(heron).map(([key, value]) => [key, cut(value)])));
    const { document, exitCode, stderr } = await size([
      ...['heavy.rider.json', 'two.shelf.json', 'cut.back.json', ...COARSE],
    ]);
    expect(exitCode).toBe(1);
    expect(document.result.closest).toBeNull();
    const said = stderr.replace(/\s+/g, ' ');
    expect(said).toContain("It can't be told whether anything on this shelf is near this back");
    expect(said).not.toContain('Nothing on this shelf is near');
    expect(said).not.toContain('no limit met');
  });

  test('3000 cells where nothing is said, and legs forward in a setup count for nothing but a note', async () => {
    await put('legs.setup.json', { schema: 'barwright/setup/1', legForward: 'both', samples: 500 });
    await put('one.shelf.json', shortShelf({ seats: ['18 in'], widths: whole.widths.slice(0, 1) }));
    const files = ['trot.rider.json', 'one.shelf.json', 'heron.back.json'];
    const [plain, legs] = [await size(files), await size([...files, '--setup', 'legs.setup.json'])];
    expect(plain.document.result.samples).toBe(3000);
    expect(legs.document.result).toEqual(plain.document.result);
    expect(legs.document.warnings.map(({ field }: { field: string }) => field)).toContain('setup.legForward');
    expect(plain.stderr).toContain('Cells: 3000 a tree');
  });

  test('a shelf without pads has one capacity, labels are quoted and steer no terminal', async () => {
    const odd = { ...whole.widths[0]!, label: 'a "b", c\u001b[31m' };
    const { pads: _, ...bare } = shortShelf({ seats: ['18 in'], widths: [odd] });
    await put('odd.shelf.json', bare);
    const args = ['trot.rider.json', 'odd.shelf.json', 'heron.back.json', ...COARSE, '--csv', 'out/odd.csv'];
    const { document, stderr } = await size(args);
    expect(document.result.rows[0].capacity.withoutPad).toBeNull();
    expect(document.result.rows[0].capacity.padLabel).toBe('the layers of the setup');
    expect(await readFile(join(shop.folder, 'out/odd.csv'), 'utf8')).toContain('"a ""b"", c\u001b[31m"');
    expect([...stderr].filter((sign) => /\p{Cc}/u.test(sign) && sign !== '\n')).toEqual([]);
  });
});

describe('ended by Ctrl-C', () => {
  test('stops after the tree at hand: what was done on stdout, nothing chosen, no file, exit 1', async () => {
    const files = ['heavy.rider.json', 'quillback-lane.shelf.json', 'heron.back.json'];
    const args = [shop.command, 'size', ...files, '--out', 'out/s.json', '--csv', 'out/s.csv'];
    const child = spawn(process.execPath, args, { cwd: shop.folder });
    let [stdout, stderr] = ['', ''];
    let isTold = false;
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      stdout += text;
    });
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      stderr += text;
      // Once: a second one ends the program where it is.
      if (!isTold && stderr.includes('\n2/30  ')) isTold = child.kill('SIGINT');
    });
    const [code] = await once(child, 'close');
    expect(code).toBe(1);
    const document = JSON.parse(stdout);
    expect(await schemaErrors(shop, 'size-result', document)).toBeNull();
    const { status, rows, closest, seatRange } = document.result;
    expect([status, closest, seatRange]).toEqual(['stopped', null, null]);
    expect(rows.length).toBeGreaterThanOrEqual(2);
    expect(rows.length).toBeLessThan(30);
    expect(document.warnings[0].sentence).toContain(`Stopped after ${rows.length} of 30 trees`);
    expect(stderr).toContain(`Stopped after ${rows.length} of 30 trees`);
    expect(await readdir(join(shop.folder, 'out'))).toEqual([]);
  });
});

describe('refusals', () => {
  const bad = async (name: string, document: unknown, at: number) => {
    await put(name, document);
    const files = ['heavy.rider.json', 'two.shelf.json', 'heron.back.json'];
    files[at] = name;
    const { document: said, exitCode } = await size([...files, ...COARSE]);
    expect(exitCode).toBe(2);
    return said.error;
  };

  test.each([
    [{ mass: '4 lb' }, { code: 'out-of-range', field: 'mass' }],
    [{ mass: '900 lb' }, { code: 'out-of-range', field: 'mass' }],
    [{ mass: '6 ft' }, { code: 'wrong-unit', field: 'mass' }],
    [{ gear: '-3 kg' }, { code: 'out-of-range', field: 'gear' }],
    [{ thigh: 'huge' }, { field: 'thigh' }],
    [{ riding: 'racing' }, { code: 'unknown-name', field: 'riding' }],
    [{ colour: 'bay' }, { field: 'colour' }],
  ])('a rider of %j', async (change, wanted) => {
    expect(await bad('bad.rider.json', { ...rider, ...change }, 0)).toMatchObject({
      file: 'bad.rider.json',
      ...wanted,
    });
  });

  test.each([
    [{ pattern: 'absent.pattern.json' }, { code: 'missing', file: 'absent.pattern.json' }],
    [{ pattern: '../post.pattern.json' }, { code: 'path', field: 'pattern' }],
    [{ pattern: '/etc/passwd' }, { code: 'path', field: 'pattern' }],
    [{ pattern: 'link.pattern.json' }, { code: 'path', field: 'pattern' }],
    [{ pattern: 'heron.back.json' }, { code: 'unknown-schema', file: 'heron.back.json' }],
    [{ widths: [{ label: 'x', values: { slopeFrnt: 40 } }] }, { code: 'unknown-name', file: 'bad.shelf.json' }],
    [{ widths: [{ label: 'x', values: { slopeFront: 400 } }] }, { code: 'out-of-range', file: 'bad.shelf.json' }],
    [{ barLength: 'seatLength + wishes' }, { file: 'bad.shelf.json' }],
    [{ seats: ['15 in', '381 mm'] }, { code: 'inconsistent', field: 'seats' }],
    [{ seats: ['fifteen'] }, { code: 'syntax', field: 'seats', file: 'bad.shelf.json' }],
    [{ seats: ['4 in'] }, { file: 'bad.shelf.json' }],
    [{ widths: [] }, { field: 'widths' }],
  ])('a shelf of %j', async (change, wanted) => {
    if ('pattern' in change && change.pattern === 'link.pattern.json') {
      await symlink('/etc/passwd', join(shop.folder, 'link.pattern.json'));
    }
    expect(await bad('bad.shelf.json', shortShelf(change), 1)).toMatchObject(wanted);
  });

  test("documents in one another's places", async () => {
    const files = ['heavy.rider.json', 'two.shelf.json', 'heron.back.json'];
    for (const [a, b, c] of [
      [1, 0, 2],
      [0, 2, 1],
      [2, 1, 0],
    ]) {
      const { document, exitCode } = await size([files[a!]!, files[b!]!, files[c!]!]);
      expect([exitCode, document.error.code, document.error.field]).toEqual([2, 'unknown-schema', 'schema']);
    }
    expect((await size(files.slice(0, 2))).document.error).toMatchObject({ code: 'usage', field: 'size' });
  });

  test.each([
    [['--samples', '10'], '--samples'],
    [['--samples', '1000000'], '--samples'],
    [['--samples', 's.csv'], '--samples'],
    [['--out', 'post.pattern.json'], '--out'],
    [['--csv', 'nowhere/s.csv'], '--csv'],
  ])('%j', async (args, field) => {
    const { document, exitCode } = await size(['heavy.rider.json', 'two.shelf.json', 'heron.back.json', ...args]);
    expect([exitCode, document.error.field]).toEqual([2, field]);
  });

  test("a folder of the shelf's own is where its pattern is looked for", async () => {
    await mkdir(join(shop.folder, 'elsewhere'));
    await put('elsewhere/two.shelf.json', shortShelf({ seats: ['18 in'], widths: whole.widths.slice(0, 1) }));
    const files = ['trot.rider.json', 'elsewhere/two.shelf.json', 'heron.back.json'];
    const before = await size([...files, ...COARSE]);
    expect(before.document.error).toMatchObject({ code: 'missing', file: 'post.pattern.json' });
    await copyFile(join(shop.folder, 'post.pattern.json'), join(shop.folder, 'elsewhere/post.pattern.json'));
    expect((await size([...files, ...COARSE])).exitCode).toBe(0);
  });
});
