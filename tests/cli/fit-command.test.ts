import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { COARSE, type Outcome, openWorkshop, type Workshop } from './run-command.ts';

let shop: Workshop;
let first: Outcome;
const DEMO = ['wren.pattern.json', 'dumpling.back.json'];
const OUTPUTS = ['--out', 'o.json', '--samples', 's.csv', '--map', 'm.svg'];

beforeAll(async () => {
  shop = await openWorkshop();
  first = await shop.runApart(['fit', ...DEMO, ...COARSE, ...OUTPUTS, '--require', 'bridging<3'], {
    env: { SOURCE_DATE_EPOCH: '1790000000' },
  });
});
afterAll(() => shop.close());

const inFolder = (name: string): Promise<string> => readFile(join(shop.folder, name), 'utf8');

describe('fit', () => {
  test('prints one document that its published schema accepts, and the same to --out', async () => {
    expect(first.exitCode).toBe(0);
    const document = JSON.parse(first.stdout);
    const schema = JSON.parse((await shop.runApart(['schema', 'fit-result'])).stdout);
    const validate = new Ajv2020({ strict: true }).compile(schema);
    validate(document);
    expect(validate.errors).toBeNull();
    expect(await inFolder('o.json')).toBe(first.stdout);
    expect(document.inputs.map((i: { role: string; file: string }) => `${i.role} ${i.file}`)).toEqual([
      'pattern wren.pattern.json',
      'back dumpling.back.json',
    ]);
    expect(document.requirements).toEqual([
      { condition: 'bridging<3', name: 'bridging', operator: '<', limit: 3, value: 0, met: true },
    ]);
  });

  test('the schema is no rubber stamp: a figure taken out, added or made a word is refused', async () => {
    const schema = JSON.parse((await shop.runApart(['schema', 'fit-result'])).stdout);
    const validate = new Ajv2020({ strict: true }).compile(schema);
    const changed = (edit: (result: Record<string, Record<string, unknown>>) => void): boolean => {
      const document = JSON.parse(first.stdout);
      edit(document.result);
      return validate(document);
    };
    expect(changed(() => {})).toBe(true);
    expect(changed((r) => delete r.contact!.p95PressureKPa)).toBe(false);
    expect(changed((r) => Object.assign(r.contact!, { verdict: 1 }))).toBe(false);
    expect(changed((r) => Object.assign(r.pose!, { pitchDeg: 'level' }))).toBe(false);
  });

  test('the reading never shows area and mean without p95, peak and thirds, and carries its cautions', () => {
    for (const words of [
      'contact cm2',
      '95th percentile',
      'peak over 4 cm2',
      'front  middle  rear',
      'not permission',
    ]) {
      expect(first.stderr).toContain(words);
    }
    expect(first.stderr).not.toMatch(/\b(safe|ok|pass|fail|green|red)\b/i);
    expect(JSON.parse(first.stdout).cautions.length).toBeGreaterThan(5);
  });

  test('the same again, in a German environment too, gives the same bytes', async () => {
    const env = { SOURCE_DATE_EPOCH: '1790000000', LANG: 'de_DE.UTF-8', LC_ALL: 'de_DE.UTF-8', TZ: 'Asia/Tokyo' };
    const outputs = ['--out', 'o2.json', '--samples', 's2.csv', '--map', 'm2.svg'];
    const again = await shop.runApart(['fit', ...DEMO, ...COARSE, ...outputs, '--require', 'bridging<3'], { env });
    expect(again.stdout).toBe(first.stdout);
    expect(await inFolder('s2.csv')).toBe(await inFolder('s.csv'));
    expect(await inFolder('m2.svg')).toBe(await inFolder('m.svg'));
  });

  test('sums over the samples give back area, force, moments and shares', async () => {
    const { result } = JSON.parse(first.stdout);
    const [head, ...lines] = (await inFolder('s.csv')).trimEnd().split('\n');
    expect(head).toBe(
      'bar,b_mm,t,x_mm,y_mm,z_mm,nx,ny,nz,area_mm2,foot_x_mm,foot_y_mm,foot_z_mm,back_nx,back_ny,back_nz,distance_mm,gap_mm,pressure_kpa,in_contact,has_data',
    );
    const names = head!.split(',');
    const rows = lines.map((line) => {
      const cells = line.split(',');
      return Object.fromEntries(names.map((name, i) => [name, i === 0 ? cells[i] : Number(cells[i])])) as Cell;
    });
    const sums = sumUp(rows, result.reactions.atMm);
    expect(sums.areaMm2 / 100).toBeCloseTo(result.contact.areaCm2, 8);
    expect(sums.force[2]).toBeCloseTo(result.load.supportedN, 7);
    // What friction or girth would have to supply is the opposite of the horizontal contact force.
    expect(-sums.force[0]).toBeCloseTo(result.reactions.xN, 7);
    expect(-sums.force[1]).toBeCloseTo(result.reactions.yN, 7);
    expect(sums.pressureArea / sums.areaMm2).toBeCloseTo(result.contact.meanPressureKPa, 8);
    expect(sums.leftVertical / sums.force[2]).toBeCloseTo(result.contact.shareLeft, 9);
    expect(sums.momentX / sums.force[2]).toBeCloseTo(result.contact.centreOfPressureXMm, 6);
    // Vertical load at 47 % of 500 mm and b of the origin 250: lever -15 mm before pitch; about y it balances the cells'.
    const m = result.pose.barToHorse;
    const lever = [m[0] * -15 + m[2] * 150, m[4] * -15 + m[6] * 150];
    expect(sums.moment[1]).toBeCloseTo(-lever[0]! * result.load.appliedN, -1);
    expect(sums.moment[0]).toBeCloseTo(lever[1]! * result.load.appliedN, -1);
  });

  test('every cell of the table has a unit normal towards the horse and a gap less than its distance by the pad', async () => {
    const lines = (await inFolder('s.csv')).trimEnd().split('\n').slice(1);
    for (const line of lines) {
      const n = line.split(',').map(Number);
      expect(Math.hypot(n[6]!, n[7]!, n[8]!)).toBeCloseTo(1, 9);
      expect(n[8]).toBeLessThan(0);
      expect(n[16]! - n[17]!).toBeCloseTo(20, 9);
    }
  });

  test('a whole bench stands for its documents, its setup with them, and a scan in it for one beside a back', async () => {
    const read = async (name: string) => JSON.parse(await inFolder(name));
    const bench = {
      schema: 'barwright/bench/1',
      name: 'Wren on Dumpling',
      pattern: await read('wren.pattern.json'),
      back: { document: await read('dumpling.back.json') },
      setup: { schema: 'barwright/setup/1', name: 'Coarse', samples: 400 },
    };
    await writeFile(join(shop.folder, 'whole.bench.json'), JSON.stringify(bench));
    const whole = await shop.run(['fit', 'whole.bench.json']);
    expect(JSON.parse(whole.stdout).result).toEqual(JSON.parse(first.stdout).result);
    const checked = JSON.parse((await shop.run(['check', 'whole.bench.json'])).stdout).result;
    expect([checked.kind, checked.values.pattern, checked.values.setup]).toEqual(['bench', 'Wren', 'Coarse']);
    const alone = await shop.run(['fit', 'wren.pattern.json']);
    expect([alone.exitCode, JSON.parse(alone.stdout).error.field]).toEqual([2, 'fit']);

    const scan = await read('tuesday-scan.back.json');
    const base64 = (await readFile(join(shop.folder, scan.mesh))).toString('base64');
    const carried = { ...bench, back: { document: scan, mesh: { fileName: scan.mesh, base64 } } };
    await writeFile(join(shop.folder, 'scan.bench.json'), JSON.stringify(carried));
    const facts = async (name: string) => JSON.parse((await shop.run(['check', name])).stdout).result.mesh;
    expect(await facts('scan.bench.json')).toEqual(await facts('tuesday-scan.back.json'));
  });

  test('a condition that is not met gives exit 1, and all the files all the same', async () => {
    const args = ['fit', ...DEMO, ...COARSE, '--require', 'contact.p95PressureKPa<= 1 psi', '--out', 'unmet.json'];
    const unmet = await shop.runApart(args);
    expect(unmet.exitCode).toBe(1);
    const [outcome] = JSON.parse(unmet.stdout).requirements;
    expect(outcome.met).toBe(false);
    expect(outcome.limit).toBeCloseTo(6.894757, 5);
    expect(unmet.stderr).toContain('NOT MET: contact.p95PressureKPa<= 1 psi');
    expect(await inFolder('unmet.json')).toBe(unmet.stdout);
  });

  test('a tree off the data says so: has_data 0, empty fields, hatching, exit 1', async () => {
    const back = JSON.parse(await inFolder('dumpling.back.json'));
    const keep = back.stationsMm.map((x: number) => x >= 0 && x <= 400);
    const cut = (list: unknown[]): unknown[] => list.filter((_, i) => keep[i]);
    const short = {
      ...back,
      stationsMm: cut(back.stationsMm),
      bearingHeightMm: cut(back.bearingHeightMm),
      slopeDeg: cut(back.slopeDeg),
    };
    await writeFile(join(shop.folder, 'short.back.json'), JSON.stringify(short));
    const outputs = ['--samples', 'off.csv', '--map', 'off.svg', '--map-of', 'pressure'];
    const off = await shop.runApart(['fit', 'rail.pattern.json', 'short.back.json', ...COARSE, ...outputs]);
    expect(off.exitCode).toBe(1);
    const { result, warnings } = JSON.parse(off.stdout);
    expect(result.status).not.toBe('settled');
    expect(result.coverage.excludedFraction).toBeGreaterThan(0.1);
    expect(warnings.map((w: { field: string }) => w.field)).toContain('coverage');
    const blank = (await inFolder('off.csv'))
      .split('\n')
      .filter((line) => line.endsWith(',0,0') && line.includes(',,,'));
    expect(blank.length).toBeGreaterThan(20);
    expect(blank[0]!.split(',').slice(10, 19)).toEqual(Array(9).fill(''));
    expect(await inFolder('off.svg')).toMatch(/fill="url\(#no-data\)"/);
    expect(off.stdout).not.toContain('NaN');
  });

  test('a map as PNG is a picture of the sheet', async () => {
    const png = await shop.runApart(['fit', ...DEMO, ...COARSE, '--map', 'm.png']);
    expect(png.exitCode).toBe(0);
    const bytes = await readFile(join(shop.folder, 'm.png'));
    expect(bytes.subarray(1, 4).toString()).toBe('PNG');
    expect(bytes.readUInt32BE(16)).toBeGreaterThan(2000);
  });

  test('--set changes pattern and setup together, with units and words', async () => {
    const sets = [
      'length=24 3/4 in',
      'setup.load.riderKg=230 lb',
      'setup.layers.pad.thicknessMm=1/2 in',
      'setup.load.at=seat',
    ];
    const run = await shop.runApart(['fit', ...DEMO, ...COARSE, ...sets.flatMap((set) => ['--set', set])]);
    expect(run.exitCode).toBe(0);
    const { load } = JSON.parse(run.stdout).result;
    expect(load.appliedN).toBeCloseTo((230 * 0.45359237 + 15) * 9.80665, 6);
    expect(run.stderr).toContain('pad 12.7 mm');
    expect(run.stderr).toContain("the seat's low point");
  });

  test('nothing but the asked-for files is left in the folder', async () => {
    const names = await readdir(shop.folder);
    expect(names.filter((name) => name.startsWith('.') || name.endsWith('.part'))).toEqual([]);
  });
});

type Cell = Record<string, number> & { bar: never };

/** Totals of the table's contact cells; moments about a point, force along the back's normal. kPa mm2 = mN. */
function sumUp(rows: readonly Record<string, number>[], at: readonly number[]) {
  const s = { areaMm2: 0, pressureArea: 0, leftVertical: 0, momentX: 0, force: [0, 0, 0], moment: [0, 0, 0] };
  for (const row of rows) {
    if (row.in_contact !== 1) continue;
    const newtons = (row.pressure_kpa! * row.area_mm2!) / 1000;
    const f = [newtons * row.back_nx!, newtons * row.back_ny!, newtons * row.back_nz!];
    const r = [row.x_mm! - at[0]!, row.y_mm! - at[1]!, row.z_mm! - at[2]!];
    s.areaMm2 += row.area_mm2!;
    s.pressureArea += row.pressure_kpa! * row.area_mm2!;
    if ((row.bar as unknown as string) === 'left') s.leftVertical += f[2]!;
    s.momentX += f[2]! * row.x_mm!;
    for (let k = 0; k < 3; k++) s.force[k]! += f[k]!;
    s.moment[0]! += r[1]! * f[2]! - r[2]! * f[1]!;
    s.moment[1]! += r[2]! * f[0]! - r[0]! * f[2]!;
    s.moment[2]! += r[0]! * f[1]! - r[1]! * f[0]!;
  }
  return s;
}
