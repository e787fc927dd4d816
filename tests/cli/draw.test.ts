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

const LAYERED = 'post-layered.pattern.json';
const tip = (out: string, ...more: string[]): string[] => ['draw', LAYERED, '--sheet', 'tip', '--out', out, ...more];

describe('draw', () => {
  test('the tip of the layered Post: a drawing, and its figures in a result that its schema describes', async () => {
    const { stdout, stderr, exitCode } = await shop.run(tip('tip.svg'));
    expect(exitCode).toBe(0);
    expect(stderr).toContain('Print the .svg at 100 %');
    const document = JSON.parse(stdout);
    const schema = JSON.parse((await shop.run(['schema', 'draw-result'])).stdout);
    const validate = new Ajv2020({ strict: true, strictRequired: false, strictTuples: false }).compile(schema);
    validate(document);
    expect(validate.errors).toBeNull();
    expect(document.result).toMatchObject({ side: 'right', pattern: 'Post layered', written: 'tip.svg' });
    expect(document.result.dimensions).toMatchObject({
      ...{ tipLengthMm: 75, rootThicknessMm: 12, edgeThicknessMm: 5, liftMm: 18, barThicknessMm: 22 },
      ...{ forkFootFromMm: 75, forkFootToMm: 110 },
    });
    const svg = await readFile(join(shop.folder, 'tip.svg'), 'utf8');
    expect(svg).toContain('Post layered: front tip, right bar');
    expect(svg).toContain('root 12.0, lower layer 4.8');
  });

  test('changes of pattern and setup are drawn and named: a longer tip, a warm horse', async () => {
    const [cold, warm] = [
      await shop.run(tip('cold.svg')),
      await shop.run(tip('warm.svg', '--set', 'tipLengthFront=110', '--set', 'setup.warmth.minutes=60')),
    ].map(({ stdout }) => JSON.parse(stdout).result);
    expect(warm.dimensions.tipLengthMm).toBe(110);
    expect(warm.materials[1].temperatureC).toBeGreaterThan(cold.materials[1].temperatureC + 2);
    expect(warm.materials[1].alongMPa).toBeLessThan(0.95 * cold.materials[1].alongMPa);
    const svg = await readFile(join(shop.folder, 'warm.svg'), 'utf8');
    expect(svg).toContain('tipLengthFront = 110; setup.warmth.minutes = 60');
    expect(svg).toContain('tip length 110.0');
  });

  test('a picture is a PNG', async () => {
    await shop.run(tip('tip.png', '--side', 'left'));
    const bytes = await readFile(join(shop.folder, 'tip.png'));
    expect([...bytes.subarray(1, 4)]).toEqual([0x50, 0x4e, 0x47]);
  });

  test.each([
    [['draw', LAYERED, '--out', 'no.svg'], 'usage'],
    [['draw', LAYERED, '--sheet', 'card', '--out', 'no.svg'], 'usage'],
    [tip('no.pdf'), 'unsupported'],
    [tip('no.svg', '--set', 'tipLengthFront=0'), 'out-of-range'],
    [tip('nowhere/no.svg'), 'path'],
    [['draw', 'tuesday.back.json', '--sheet', 'tip', '--out', 'no.svg'], 'unknown-schema'],
  ])('%j is refused as %s and writes nothing', async (args, code) => {
    const { stdout, exitCode } = await shop.run(args);
    expect(exitCode).toBe(2);
    expect(JSON.parse(stdout).error.code).toBe(code);
    expect((await readdir(shop.folder)).filter((name) => name.startsWith('no'))).toEqual([]);
  });
});
