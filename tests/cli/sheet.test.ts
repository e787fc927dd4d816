import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openWorkshop, type Workshop } from './run-command.ts';

let shop: Workshop;
beforeAll(async () => {
  shop = await openWorkshop();
});
afterAll(() => shop.close());

describe('sheet', () => {
  test('three sheets as three files, by a result that its schema describes', async () => {
    const { stdout, stderr, exitCode } = await shop.run(['sheet', '--paper', 'a4', '--out', 'sheet.svg']);
    expect(exitCode).toBe(0);
    expect(stderr).toContain('measure the bar');
    const document = JSON.parse(stdout);
    const schema = JSON.parse((await shop.run(['schema', 'sheet-result'])).stdout);
    const validate = new Ajv2020({ strict: true, strictRequired: false, strictTuples: false }).compile(schema);
    validate(document);
    expect(validate.errors).toBeNull();
    expect(document.result).toMatchObject({
      tiles: 3,
      widthMm: 590,
      written: ['sheet-1.svg', 'sheet-2.svg', 'sheet-3.svg'],
    });
    for (const [i, name] of document.result.written.entries()) {
      expect(await readFile(join(shop.folder, name), 'utf8')).toContain(`Tracing sheet ${i + 1} of 3, A4`);
    }
  });

  test('one sheet keeps its name; a picture is a PNG', async () => {
    const { stdout } = await shop.run(['sheet', '--paper', 'letter', '--tiles', '1', '--out', 'one.png']);
    expect(JSON.parse(stdout).result.written).toEqual(['one.png']);
    const bytes = await readFile(join(shop.folder, 'one.png'));
    expect([...bytes.subarray(1, 4)]).toEqual([0x50, 0x4e, 0x47]);
  });

  test.each([
    [['--paper', 'a3', '--out', 'no.svg'], 'usage'],
    [['--paper', 'a4', '--tiles', '5', '--out', 'no.svg'], 'usage'],
    [['--paper', 'a4'], 'usage'],
    [['--paper', 'a4', '--out', 'no.pdf'], 'unsupported'],
    [['--paper', 'a4', '--out', 'nowhere/no.svg'], 'path'],
  ])('%j is refused as %s and writes nothing', async (args, code) => {
    const { stdout, exitCode } = await shop.run(['sheet', ...args]);
    expect(exitCode).toBe(2);
    expect(JSON.parse(stdout).error.code).toBe(code);
    expect((await readdir(shop.folder)).filter((name) => name.startsWith('no'))).toEqual([]);
  });
});
