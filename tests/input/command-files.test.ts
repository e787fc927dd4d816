import { existsSync } from 'node:fs';
import { copyFile, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openWorkshop, type Workshop } from '../cli/run-command.ts';

/** What a file system and an environment may hand to the command; numbers are those of the list of hostile inputs. */
let shop: Workshop;
beforeAll(async () => {
  shop = await openWorkshop();
  const scan = join(shop.folder, 'tuesday-scan.ply');
  await copyFile(scan, join(shop.folder, 'scan'));
  await copyFile(scan, join(shop.folder, 'scan.stl'));
  await writeFile(join(shop.folder, 'huge.ply'), 'ply\n');
  await truncate(join(shop.folder, 'huge.ply'), 4 * 2 ** 30);
});
afterAll(() => shop.close());

const checked = async (name: string) => {
  const { stdout, exitCode } = await shop.run(['check', name]);
  return { exitCode, document: JSON.parse(stdout) };
};

it('68 a scan without an ending, or with a wrong one, is what its content says, with a warning', async () => {
  const named = await checked('tuesday-scan.ply');
  expect(named.exitCode).toBe(0);
  expect(named.document.result.mesh.triangles).toBeGreaterThan(5000);
  for (const name of ['scan', 'scan.stl']) {
    const { exitCode, document } = await checked(name);
    expect(exitCode).toBe(0);
    expect(document.result.mesh).toEqual(named.document.result.mesh);
    expect(JSON.stringify(document.warnings)).toMatch(new RegExp(`${name} was read as PLY by its content`));
  }
});

it('68 a file of 4 GB is refused by its size, unread', async () => {
  const { exitCode, document } = await checked('huge.ply');
  expect({ exitCode, code: document.error.code, file: document.error.file }).toEqual({
    exitCode: 2,
    code: 'too-large',
    file: 'huge.ply',
  });
});

it.runIf(existsSync('/proc/self/status'))('68 a file that holds more than its stated size of 0', async () => {
  const { exitCode, document } = await checked('/proc/self/status');
  expect({ exitCode, code: document.error.code }).toEqual({ exitCode: 2, code: 'unsupported' });
});

it.each([
  ['check', 'tuesday-scan.ply'],
  ['check', 'post.pattern.json'],
  ['measure', 'post.pattern.json'],
  ['back', 'tuesday-scan.ply'],
])('69 %s %s writes the same bytes in a German and in a Japanese environment', async (...args) => {
  const fixed = { SOURCE_DATE_EPOCH: '1790000000' };
  const plain = await shop.run(args, { env: { ...fixed, LANG: 'C', LC_ALL: 'C', TZ: 'UTC' } });
  expect(plain.stdout.length).toBeGreaterThan(300);
  for (const [lang, zone] of [
    ['de_DE.UTF-8', 'Europe/Berlin'],
    ['ja_JP.UTF-8', 'Asia/Tokyo'],
  ] as const) {
    const env = { ...fixed, LANG: lang, LC_ALL: lang, LC_NUMERIC: lang, TZ: zone };
    expect(await shop.run(args, { env })).toEqual(plain);
  }
});
