import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { COARSE, openWorkshop, type Workshop } from './run-command.ts';

/** A name that no other text holds. */
const OWNER = 'Zebulon Ownerson';
let shop: Workshop;

beforeAll(async () => {
  shop = await openWorkshop();
  const tuesday = JSON.parse(await readFile(join(shop.folder, 'tuesday.back.json'), 'utf8'));
  const record = { owner: OWNER, horse: 'Tuesday', surface: 'bare', how: 'flexible ruler', notes: 'coat clipped' };
  const later = { ...tuesday, record, measured: { ...tuesday.measured, on: '2026-10-30' }, name: 'Tuesday, again' };
  await writeFile(join(shop.folder, 'owned.back.json'), JSON.stringify({ ...tuesday, record }));
  await writeFile(join(shop.folder, 'again.back.json'), JSON.stringify(later));
  const scan = JSON.parse(await readFile(join(shop.folder, 'tuesday-scan.back.json'), 'utf8'));
  await writeFile(join(shop.folder, 'scan.back.json'), JSON.stringify({ ...scan, record }));
});
afterAll(() => shop.close());

const at = (day: string) => ({ env: { SOURCE_DATE_EPOCH: String(Date.parse(day) / 1000) } });
const NUMBERS = ['--usable-length', '500', '--withers-width', '184', '--slope-front', '45', '--slope-waist', '33'];
const BY_HAND = [...NUMBERS, '--slope-rear', '24', '--dip', '35', '--surface', 'bare', '--owner', OWNER];
const PAIR = ['post.pattern.json', 'owned.back.json'];

/** Every command that reads a back, with every file it can write. */
const COMMANDS: readonly (readonly [string, readonly string[], readonly string[]])[] = [
  [
    'fit',
    [...PAIR, ...COARSE, '--map', 'f.svg', '--samples', 'f.csv', '--out', 'f.json'],
    ['f.svg', 'f.csv', 'f.json'],
  ],
  [
    'changes',
    ['owned.back.json', 'again.back.json', '--map', 'c.svg', '--samples', 'c.csv', '--out', 'c.json'],
    ['c.svg', 'c.csv', 'c.json'],
  ],
  [
    'compare',
    ['wren.pattern.json', ...PAIR, ...COARSE, '--map', 'm.svg', '--out', 'm.json'],
    ['m-1.svg', 'm-2.svg', 'm.json'],
  ],
  ['sweep', [...PAIR, ...COARSE, '--vary', 'length=540:560:20', '--out', 's.json'], ['s.json']],
  ['check', ['owned.back.json'], []],
  ['check', ['scan.back.json'], []],
  ['back', BY_HAND, []],
];

describe("the owner's name", () => {
  test.each(COMMANDS)('%s does not tell it unasked, in what it says or writes', async (command, args, files) => {
    const { stdout, stderr, exitCode } = await shop.run([command, ...args], at('2026-11-01'));
    expect(exitCode).toBe(0);
    const texts = await Promise.all(files.map((file) => readFile(join(shop.folder, file), 'latin1')));
    for (const text of [stdout, stderr, ...texts]) {
      expect(text.length).toBeGreaterThan(50);
      expect(text).not.toMatch(/Zebulon|Ownerson/);
    }
  });

  test.each([
    ['fit', [...PAIR, ...COARSE]],
    ['changes', ['owned.back.json', 'again.back.json', '--map', 'w.svg']],
    ['back', BY_HAND],
  ])('%s tells it with --with-owner', async (command, args) => {
    const { stdout } = await shop.run([command, ...args, '--with-owner'], at('2026-11-01'));
    expect(stdout).toContain(OWNER);
    if (command === 'changes') expect(await readFile(join(shop.folder, 'w.svg'), 'utf8')).toContain(`Owner: ${OWNER}.`);
  });

  test('a back by hand keeps it in the document that is written', async () => {
    await shop.run(['back', ...BY_HAND, '--out', 'kept.back.json']);
    expect(await readdir(shop.folder)).toContain('kept.back.json');
    expect(JSON.parse(await readFile(join(shop.folder, 'kept.back.json'), 'utf8')).record.owner).toBe(OWNER);
  });
});

describe('the reminder to measure again', () => {
  const notes = async (day: string, command = 'fit', args = [...PAIR, ...COARSE]) =>
    JSON.parse((await shop.run([command, ...args], at(day))).stdout).warnings.filter(({ field }: { field: string }) =>
      field.endsWith('back.measured.on'),
    );

  test('is given by fit from the day on, with its source, and not before; no figure hangs on the day', async () => {
    expect(await notes('2026-12-11')).toEqual([]);
    const [due] = await notes('2026-12-12');
    expect(due.sentence).toMatch(/measure again: due since 2026-12-12.*Greve & Dyson 2014/);
    const [early, late] = await Promise.all(
      ['2026-10-13', '2031-01-01'].map(async (day) =>
        JSON.parse((await shop.run(['fit', ...PAIR, ...COARSE], at(day))).stdout),
      ),
    );
    expect(late.result).toEqual(early.result);
    const [ahead] = await notes('2026-10-01');
    expect(ahead.sentence).toMatch(/check the date/);
  });

  test('a day that no calendar has is refused by name', async () => {
    const back = JSON.parse(await readFile(join(shop.folder, 'owned.back.json'), 'utf8'));
    back.measured.on = '2026-02-30';
    await writeFile(join(shop.folder, 'odd.back.json'), JSON.stringify(back));
    const { exitCode, stdout, stderr } = await shop.run(['fit', 'post.pattern.json', 'odd.back.json', ...COARSE]);
    expect(exitCode).toBe(2);
    expect(`${stdout}${stderr}`).toMatch(/measured\.on/);
  });

  test('is said once by compare for both patterns on one back', async () => {
    const due = await notes('2027-03-01', 'compare', ['wren.pattern.json', ...PAIR, ...COARSE]);
    expect(due).toHaveLength(1);
    expect(due[0].field).toBe('A B back.measured.on');
  });
});
