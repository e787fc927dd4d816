import { spawnSync } from 'node:child_process';
import { mkdir, readdir, readFile, symlink, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import Ajv2020, { type ValidateFunction } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openWorkshop, type Workshop } from './run-command.ts';

let shop: Workshop;
let isErrorDocument: ValidateFunction;
const DEMO = ['wren.pattern.json', 'dumpling.back.json'];
const PLY_WITHOUT_DATA = `ply
format binary_little_endian 1.0
element vertex 9
${['x', 'y', 'z'].map((axis) => `property float ${axis}\n`).join('')}element face 3
property list uchar int vertex_indices
end_header
`;
const ODD = '-x\u001b[2J <&>"\u202e.json';

beforeAll(async () => {
  shop = await openWorkshop();
  isErrorDocument = new Ajv2020().compile(JSON.parse((await shop.run(['schema', 'error'])).stdout));
  const write = (name: string, text: string): Promise<void> => writeFile(join(shop.folder, name), text);
  const scan = JSON.parse(await readFile(join(shop.folder, 'tuesday-scan.back.json'), 'utf8'));
  await write('cut.json', '{"schema": "barwright/pattern/1", ');
  await write('empty.json', '');
  await write('twice.json', '{"schema": "barwright/pattern/1", "schema": "barwright/pattern/1"}');
  await write('proto.json', '{"schema": "barwright/pattern/1", "__proto__": {}}');
  await write('newer.json', '{"schema": "barwright/pattern/9", "name": "x"}');
  await write('nothing.json', '{"a": 1}');
  await write('broken.ply', PLY_WITHOUT_DATA);
  await write('folder-mesh.back.json', JSON.stringify({ ...scan, mesh: '../outside.ply' }));
  await write('absolute-mesh.back.json', JSON.stringify({ ...scan, mesh: '/etc/passwd' }));
  await write('linked-mesh.back.json', JSON.stringify({ ...scan, mesh: 'link.ply' }));
  await write('no-mesh.back.json', JSON.stringify({ ...scan, mesh: 'absent.ply' }));
  await symlink('/etc/passwd', join(shop.folder, 'link.ply'));
  await write('huge.json', '');
  await truncate(join(shop.folder, 'huge.json'), 64 * 1024 * 1024);
  await write(ODD, '{"schema": "barwright/pattern/1", "name": "\u001b[31m"}');
  await mkdir(join(shop.folder, 'folder'));
  spawnSync('mkfifo', [join(shop.folder, 'pipe.json')]);
});
afterAll(() => shop.close());

/** What is wrong, the arguments, and code, file and field of the refusal. */
const REFUSALS: readonly [string, readonly string[], string, string | null, string | null][] = [
  ['no command', [], 'usage', null, null],
  ['an unknown command', ['fitt'], 'usage', null, 'barwright'],
  ['an unknown option', ['fit', ...DEMO, '--pad', '3'], 'usage', null, 'fit'],
  ['an argument missing', ['fit', 'wren.pattern.json'], 'usage', null, 'fit'],
  ['an argument too many', ['fit', ...DEMO, 'x'], 'usage', null, 'fit'],
  ['no such file', ['fit', 'absent.json', 'dumpling.back.json'], 'missing', 'absent.json', null],
  ['a folder for a file', ['fit', 'folder', 'dumpling.back.json'], 'wrong-type', 'folder', null],
  ['a device', ['check', '/dev/zero'], 'wrong-type', 'zero', null],
  ['a pipe that nobody fills', ['check', 'pipe.json'], 'wrong-type', 'pipe.json', null],
  ['a huge document', ['fit', 'huge.json', 'dumpling.back.json'], 'too-large', 'huge.json', null],
  ['an empty document', ['check', 'empty.json'], 'empty', 'empty.json', null],
  ['a document cut off', ['check', 'cut.json'], 'truncated', 'cut.json', 'line 1, column 35'],
  ['a key twice', ['check', 'twice.json'], 'duplicate-key', 'twice.json', 'line 1, column 35'],
  ['a key that reaches the prototype', ['check', 'proto.json'], 'forbidden', 'proto.json', 'line 1, column 35'],
  ['a newer document', ['check', 'newer.json'], 'unknown-schema', 'newer.json', 'schema'],
  ['a document of another program', ['check', 'nothing.json'], 'missing', 'nothing.json', 'schema'],
  [
    'a back where a pattern belongs',
    ['fit', 'heron.back.json', 'heron.back.json'],
    'unknown-schema',
    'heron.back.json',
    'schema',
  ],
  ['a mesh cut off', ['check', 'broken.ply'], 'truncated', 'broken.ply', null],
  ['a mesh above the folder', ['fit', DEMO[0]!, 'folder-mesh.back.json'], 'path', 'folder-mesh.back.json', 'mesh'],
  ['a mesh elsewhere', ['fit', DEMO[0]!, 'absolute-mesh.back.json'], 'path', 'absolute-mesh.back.json', 'mesh'],
  ['a mesh behind a link', ['check', 'linked-mesh.back.json'], 'path', 'linked-mesh.back.json', 'mesh'],
  ['a mesh that is absent', ['fit', DEMO[0]!, 'no-mesh.back.json'], 'missing', 'absent.ply', null],
  ['a change without a value', ['fit', ...DEMO, '--set', 'length'], 'usage', null, '--set'],
  ['a change of nothing known', ['fit', ...DEMO, '--set', 'lenght=500'], 'unknown-name', null, 'lenght'],
  ['a setup value unknown', ['fit', ...DEMO, '--set', 'setup.load.rider=80'], 'unknown-name', null, 'setup.load.rider'],
  [
    'a setup key through the prototype',
    ['fit', ...DEMO, '--set', 'setup.__proto__.x=1'],
    'unknown-name',
    null,
    'setup.__proto__.x',
  ],
  ['a value out of range', ['fit', ...DEMO, '--set', 'length=5 m'], 'out-of-range', null, 'values.length'],
  [
    'a unit of another kind',
    ['fit', ...DEMO, '--set', 'setup.load.riderKg=80 mm'],
    'wrong-unit',
    null,
    'setup.load.riderKg',
  ],
  ['a hyphen that may be a minus', ['fit', ...DEMO, '--set', 'length=22-1/4'], 'ambiguous', null, 'values.length'],
  ['a condition that is none', ['fit', ...DEMO, '--require', 'bridging'], 'usage', null, '--require'],
  ['a map that is no drawing', ['fit', ...DEMO, '--map', 'm.gif'], 'unsupported', null, '--map'],
  ['ends of the other map', ['fit', ...DEMO, '--map', 'm.svg', '--map-ends', '40'], 'usage', null, '--map-ends'],
  ['an output in no folder', ['fit', ...DEMO, '--out', 'nowhere/o.json'], 'path', 'o.json', '--out'],
  ['an output that is a folder', ['fit', ...DEMO, '--out', 'folder'], 'path', 'folder', '--out'],
  [
    'an output over an input',
    ['fit', ...DEMO, '--samples', './wren.pattern.json'],
    'path',
    'wren.pattern.json',
    '--samples',
  ],
  ['two outputs in one', ['fit', ...DEMO, '--out', 'one', '--samples', './one'], 'path', 'one', '--samples'],
  ['a range that leads away', ['sweep', ...DEMO, '--vary', 'length=500:600:-10'], 'usage', null, '--vary'],
  ['a range of nothing known', ['sweep', ...DEMO, '--vary', 'langth=1:2:1'], 'unknown-name', null, '--vary'],
  ['a range without an end', ['sweep', ...DEMO, '--vary', 'length=1:1e9:1e-9'], 'usage', null, '--vary'],
  [
    'the same value twice',
    ['sweep', ...DEMO, '--vary', 'length=500:510:5', '--vary', 'length=500:510:5'],
    'usage',
    null,
    '--vary',
  ],
  ['a schema of no such name', ['schema', '__proto__'], 'unknown-name', null, 'name'],
  ['a port that is none', ['view', '--port', '99999'], 'usage', null, 'view'],
  ['mesh options for a pattern', ['measure', 'wren.pattern.json', '--unit', 'in'], 'usage', null, '--unit'],
];

describe('every refusal is one error document, exit 2, a sentence, and leaves nothing behind', () => {
  test.each(REFUSALS)('%s', async (_, args, code, file, field) => {
    const before = await readdir(shop.folder);
    const { exitCode, stdout, stderr } = await shop.run(args);
    const { error } = JSON.parse(stdout);
    isErrorDocument({ schema: 'barwright/error/1', error });
    expect(isErrorDocument.errors).toBeNull();
    expect({ exitCode, code: error.code, file: error.file }).toEqual({ exitCode: 2, code, file });
    if (field !== null) expect(error.field).toBe(field);
    expect(stderr.trim()).toMatch(/\.$|\?$/);
    expect(error.remedy.length).toBeGreaterThan(5);
    expect(await readdir(shop.folder)).toEqual(before);
  });

  test('a hostile file name and hostile words in it reach no terminal', async () => {
    const { exitCode, stdout, stderr } = await shop.run(['check', '--', ODD]);
    expect(exitCode).toBe(2);
    expect(JSON.parse(stdout).error.file).toBe(ODD);
    const steering = [...stderr].filter((sign) => /[\p{Cc}\u202e]/u.test(sign) && sign !== '\n');
    expect(steering).toEqual([]);
    expect(stderr).toContain('\\u001b[2J');
  });

  test('near names are offered', async () => {
    const { stderr } = await shop.run(['fit', ...DEMO, '--set', 'setup.load.riderkg=80']);
    expect(stderr).toContain('setup.load.riderKg');
  });
});
