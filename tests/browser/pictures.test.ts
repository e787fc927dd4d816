import { readFile } from 'node:fs/promises';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type PictureSize, reachState, SIZES, STATES } from '../pictures/states.ts';
import { type Bench, startBench } from './bench.fixture.ts';

/** Share of pixels that may differ: the clock of the last saving, and a line's edge drawn one grey darker. */
const MOST_DIFFERENT = 0.004;

/** One of each kind: the three-dimensional picture, the dark on a phone, a drawing over the ruler. */
const LOOKED_AT: readonly (readonly [string, PictureSize])[] = [
  ['opening', 'desk'],
  ['opening-dark', 'phone'],
  ['cut', 'desk'],
];

let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
});
afterAll(() => bench?.close());

const kept = async (name: string): Promise<PNG> =>
  PNG.sync.read(await readFile(new URL(`../../docs/pictures/${name}.png`, import.meta.url)));

/** Share of the pixels that differ to the eye. */
function difference(a: PNG, b: PNG): number {
  expect([a.width, a.height]).toEqual([b.width, b.height]);
  return pixelmatch(a.data, b.data, undefined, a.width, a.height, { threshold: 0.15 }) / (a.width * a.height);
}

describe('the main states look as they did', () => {
  test.each(LOOKED_AT)('%s, %s: of a thousand pixels fewer than four differ from docs/pictures', async (name, size) => {
    const state = STATES.find((one) => one.name === name)!;
    const { page, context } = await bench.open('fresh&calm', {
      ...SIZES[size],
      dark: state.dark ?? false,
      drawn: true,
    });
    await reachState(page, bench.url, state);
    const now = PNG.sync.read(await page.screenshot());
    expect(difference(now, await kept(`${name}-${size}`))).toBeLessThan(MOST_DIFFERENT);
    await context.close();
  });

  test('another tree on another horse is a different picture', async () => {
    expect(difference(await kept('opening-desk'), await kept('bridge-desk'))).toBeGreaterThan(4 * MOST_DIFFERENT);
  });
});
