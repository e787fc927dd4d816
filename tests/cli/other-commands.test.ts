import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFile, writeFile } from 'node:fs/promises';
import { request } from 'node:http';
import { join } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { COARSE, openWorkshop, type Workshop } from './run-command.ts';

let shop: Workshop;
const DEMO = ['wren.pattern.json', 'dumpling.back.json'];

beforeAll(async () => {
  shop = await openWorkshop();
});
afterAll(() => shop.close());

async function errorsAgainst(name: string, document: unknown): Promise<unknown> {
  const schema = JSON.parse((await shop.run(['schema', name])).stdout);
  const validate = new Ajv2020({ strict: true, strictRequired: false, strictTuples: false }).compile(schema);
  validate(document);
  return validate.errors;
}

describe('help', () => {
  test('names exactly the commands there are, and each teaches by an example that runs', async () => {
    const { stdout, stderr, exitCode } = await shop.run(['--help']);
    expect({ stderr, exitCode }).toEqual({ stderr: '', exitCode: 0 });
    const names = [...stdout.matchAll(/^ {2}([a-z]+) [[<]/gm)]
      .map((match) => match[1])
      .filter((name) => name !== 'help');
    expect(names).toEqual([
      'fit',
      'measure',
      'back',
      'changes',
      'compare',
      'sheet',
      'draw',
      'sweep',
      'reach',
      'sure',
      'shoulder',
      'ride',
      'flex',
      'size',
      'check',
      'view',
      'schema',
    ]);
    for (const name of names) {
      const help = await shop.run([name!, '--help']);
      expect(help.exitCode).toBe(0);
      expect(help.stdout).toContain(`barwright ${name}`);
      const again = await shop.run(['help', name!]);
      expect(again.stdout).toBe(help.stdout);
      // The shelf of the example of size is settled in size.test.ts.
      if (name === 'view' || name === 'size') continue;
      const example = exampleOf(help.stdout);
      const run = await shop.run([...example, ...(QUICKER[name!] ?? [])]);
      expect({ example, exitCode: run.exitCode }).toEqual({ example, exitCode: 0 });
      JSON.parse(run.stdout);
    }
  }, 300_000);

  test('the version is that of the package', async () => {
    const manifest = await readFile(new URL('../../packages/cli/package.json', import.meta.url), 'utf8');
    expect((await shop.run(['--version'])).stdout.trim()).toBe(JSON.parse(manifest).version);
  });
});

/** What makes the example of a command take a second. */
const QUICKER: Readonly<Record<string, readonly string[]>> = {
  fit: COARSE,
  sweep: COARSE,
  shoulder: [...COARSE, '--phases', '4'],
  ride: COARSE,
  reach: [...COARSE, '--nodes', '5'],
  sure: [...COARSE, '--draws', '20'],
};

/** The first example of a help text as arguments, as a shell would split it, in the folder of the examples. */
function exampleOf(help: string): string[] {
  const text = help.slice(help.indexOf('Example')).replace(/\\\n/g, ' ');
  const line = /\n {2}barwright (.*)/.exec(text)![1]!;
  const words = [...line.matchAll(/"([^"]*)"|(\S+)/g)].map((match) => match[1] ?? match[2]!);
  return words.map((word) => word.replace(/^examples\//, ''));
}

describe('sweep', () => {
  test('gives the very figures that fit gives, step by step, and follows expressions', async () => {
    const pattern = JSON.parse(await readFile(join(shop.folder, 'wren.pattern.json'), 'utf8'));
    pattern.values.length = 'seatLength + 6.5 in';
    await writeFile(join(shop.folder, 'tied.pattern.json'), JSON.stringify(pattern));
    const pair = ['tied.pattern.json', 'dumpling.back.json'];
    const args = ['sweep', ...pair, ...COARSE, '--vary', 'seatLength=13 in:14 in:1/2 in', '--out', 'sweep.json'];
    const { exitCode, stdout, stderr } = await shop.run(args);
    const document = JSON.parse(stdout);
    expect(exitCode).toBe(0);
    expect(await errorsAgainst('sweep-result', document)).toBeNull();
    const inches = document.result.steps.map((s: { values: number[] }) => s.values[0]! / 25.4);
    for (const [i, wanted] of [13, 13.5, 14].entries()) expect(inches[i]).toBeCloseTo(wanted, 12);
    expect(inches).toHaveLength(3);
    expect(stderr).toContain('p95 kPa');
    expect(await readFile(join(shop.folder, 'sweep.json'), 'utf8')).toBe(stdout);
    const fit = await shop.run(['fit', ...pair, ...COARSE, '--set', 'seatLength=13.5 in']);
    const { contact, mismatch } = JSON.parse(fit.stdout).result;
    const [, middle] = document.result.steps;
    expect(middle.p95PressureKPa).toBe(contact.p95PressureKPa);
    expect(middle.areaCm2).toBe(contact.areaCm2);
    expect(middle.lengthwiseLeftMm).toBe(mismatch.lengthwiseLeftMm);
  });

  test('two values make a table, the second stepping fastest; a step that makes no bar is told and gives exit 1', async () => {
    const args = ['--vary', 'rockRadius=1150:1750:600', '--vary', 'setup.setPositionMm=-40:-30:10'];
    const { stdout } = await shop.run(['sweep', ...DEMO, ...COARSE, ...args]);
    const values = JSON.parse(stdout).result.steps.map((s: { values: number[] }) => s.values);
    expect(values).toEqual([
      [1150, -40],
      [1150, -30],
      [1750, -40],
      [1750, -30],
    ]);
    const refused = await shop.run([
      'sweep',
      ...DEMO,
      ...COARSE,
      '--vary',
      'slotCentre=10:45:35',
      '--set',
      'slotLength=150',
    ]);
    expect(refused.exitCode).toBe(1);
    const document = JSON.parse(refused.stdout);
    expect(document.result.steps.map((s: { status: string }) => s.status)).toEqual(['refused', 'settled']);
    expect(document.result.steps[0].refused.code).toBe('inconsistent');
    expect(await errorsAgainst('sweep-result', document)).toBeNull();
  });
});

describe('check and measure', () => {
  test.each([
    ['wren.pattern.json', 'pattern', 'rockRadius', 1150],
    ['wren-630-r1750.pattern.json', 'pattern', 'length', 630],
    ['dumpling.back.json', 'back', 'usableLengthMm', 430],
    ['tuesday-scan.back.json', 'back', 'unit', 'm'],
    ['two-lengths.lesson.json', 'lesson', 'step 2', 'Only longer'],
    ['light.rider.json', 'rider', 'massKg', 58],
    ['quillback-lane.shelf.json', 'shelf', 'trees', 30],
    ['quillback-lane-giving.shelf.json', 'shelf', 'trees', 36],
  ])('%s is a %s', async (file, kind, key, value) => {
    const { exitCode, stdout } = await shop.run(['check', file]);
    const document = JSON.parse(stdout);
    expect(exitCode).toBe(0);
    expect(await errorsAgainst('check-result', document)).toBeNull();
    expect(document.result.kind).toBe(kind);
    expect(document.result.values[key]).toBe(value);
    expect(await errorsAgainst(kind, JSON.parse(await readFile(join(shop.folder, file), 'utf8')))).toBeNull();
  });

  test('a setup shows its defaults, a mesh its counts', async () => {
    await writeFile(join(shop.folder, 'a.setup.json'), '{"schema": "barwright/setup/1", "load": {"riderKg": 104}}');
    const setup = JSON.parse((await shop.run(['check', 'a.setup.json'])).stdout);
    expect(setup.result.values).toMatchObject({ 'load.riderKg': 104, 'load.saddleKg': 15, setPositionMm: -30 });
    const mesh = JSON.parse((await shop.run(['check', 'tuesday-scan.ply'])).stdout);
    const header = (await readFile(join(shop.folder, 'tuesday-scan.ply'), 'latin1')).slice(0, 400);
    expect(mesh.result.mesh.vertices).toBe(Number(/element vertex (\d+)/.exec(header)![1]));
    expect(mesh.result.mesh.triangles).toBe(Number(/element face (\d+)/.exec(header)![1]));
    expect(await errorsAgainst('check-result', mesh)).toBeNull();
  });

  test('a lesson that locks what it changes, or names what is not there, is refused with the step', async () => {
    const lesson = JSON.parse(await readFile(join(shop.folder, 'two-lengths.lesson.json'), 'utf8'));
    const refusal = async (edit: (steps: Record<string, unknown>[]) => void): Promise<Record<string, string>> => {
      const copy = structuredClone(lesson);
      edit(copy.steps);
      await writeFile(join(shop.folder, 'edited.lesson.json'), JSON.stringify(copy));
      return JSON.parse((await shop.run(['check', 'edited.lesson.json'])).stdout).error;
    };
    expect(await refusal((s) => Object.assign(s[3]!, { locked: ['rockRadius'] }))).toMatchObject({
      code: 'inconsistent',
      field: 'steps.3.locked',
    });
    expect(await refusal((s) => Object.assign(s[1]!, { setup: { 'load.horse': 1 } }))).toMatchObject({
      code: 'unknown-name',
      field: 'steps.1.setup.load.horse',
    });
    expect(await refusal((s) => Object.assign(s[1]!, { back: '../heron.back.json' }))).toMatchObject({
      field: 'steps.1.back',
    });
  });

  test('measure gives back what the pattern says, by its own definitions', async () => {
    const { exitCode, stdout } = await shop.run(['measure', 'post.pattern.json', '--set', 'rockRadius=1500']);
    const document = JSON.parse(stdout);
    expect(exitCode).toBe(0);
    expect(await errorsAgainst('measure-result', document)).toBeNull();
    const rock = document.result.right.rock.find((r: { line: string }) => r.line === 'bearing');
    expect(rock.radiusMm).toBeCloseTo(1500, 0);
    const front = document.result.pairs.find((p: { name: string }) => p.name === 'front');
    expect(front.includedAngleDeg).toBeCloseTo(94, 1);
    expect(front.spreadMm).toBeCloseTo(162, 1);
  });

  test('measure refuses a mesh that holds no bars, and takes its axes', async () => {
    const { exitCode, stdout } = await shop.run(['measure', 'tuesday-scan.ply', '--axes', '-x,+y,+z', '--unit', 'm']);
    expect(exitCode).toBe(2);
    expect(JSON.parse(stdout).error.code).toBe('inconsistent');
  });
});

describe('view', () => {
  test('serves the bench and the given files to this machine alone, and ends when told', async () => {
    const args = [shop.command, 'view', 'wren.pattern.json', 'tuesday-scan.back.json'];
    const child = spawn(process.execPath, args, { cwd: shop.folder });
    const ended = once(child, 'exit');
    try {
      const document = await firstDocument(child.stdout);
      expect(document.url).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/\?files$/);
      const get = (path: string, headers = {}): Promise<Answer> => fetchRaw(document.url, path, headers);
      expect((await get('/')).body).toContain('bench');
      expect((await get('/assets/a.js')).type).toMatch(/javascript/);
      const list = JSON.parse((await get('/files/index.json')).body);
      expect(list.map((f: { name: string }) => f.name)).toEqual([
        'wren.pattern.json',
        'tuesday-scan.back.json',
        'tuesday-scan.ply',
      ]);
      const served = await get(list[0].url);
      expect(served.body).toBe(await readFile(join(shop.folder, 'wren.pattern.json'), 'utf8'));
      const outside = ['/../secret.txt', '/%2e%2e/secret.txt', '/assets/..%2f..%2f..%2fsecret.txt', '/..%5csecret.txt'];
      for (const path of [...outside, '/files/9-heron.back.json', '/files/heron.back.json', '/%zz', '/%00']) {
        expect({ path, code: (await get(path)).code }).toEqual({ path, code: 404 });
      }
      expect((await get('/', { host: 'example.org' })).code).toBe(403);
    } finally {
      child.kill('SIGTERM');
    }
    expect((await ended)[0]).toBe(0);
  });
});

interface Answer {
  readonly code: number;
  readonly type: string;
  readonly body: string;
}

/** A request whose path is sent as it stands: fetch would tidy it. */
function fetchRaw(url: string, path: string, headers: Record<string, string>): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const { hostname, port } = new URL(url);
    request({ hostname, port, path, headers }, (response) => {
      let body = '';
      response.setEncoding('utf8').on('data', (text: string) => {
        body += text;
      });
      response.on('end', () =>
        resolve({ code: response.statusCode!, type: response.headers['content-type'] ?? '', body }),
      );
    })
      .on('error', reject)
      .end();
  });
}

async function firstDocument(stream: NodeJS.ReadableStream): Promise<{ url: string }> {
  let text = '';
  for await (const part of stream) {
    text += part;
    if (text.endsWith('}\n')) return JSON.parse(text);
  }
  throw new Error(`ended early: ${text}`);
}
