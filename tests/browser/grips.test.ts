import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Bench, readingDone, rulerOf, startBench } from './bench.fixture.ts';

let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
});
afterAll(() => bench?.close());

const WITHIN = { timeout: 10_000 };
const LONG = { timeout: 40_000, interval: 500 };

/** Pulls a knob of the picture by so many px across and down. */
async function pull(page: Page, name: string, dx: number, dy: number): Promise<void> {
  const box = (await page.locator(`[data-grip="${name}"]`).boundingBox())!;
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + dx, y + dy, { steps: 3 });
  await page.mouse.up();
}

/** What the ruler's own handle for it says. */
const said = async (page: Page, handle: RegExp): Promise<number> =>
  Number(await rulerOf(page).getByRole('slider', { name: handle }).getAttribute('aria-valuenow'));

const HANDLES = [
  ['station', /^Station marker/, 60, 15],
  ['set', /^Set position/, 20, 4],
  ['rock', /^Rock/, 0, 6],
  ['flareFront', /^Front tip flare/, 0, -8],
  ['flareRear', /^Rear tip flare/, 0, -8],
] as const;

describe('in the picture', () => {
  test('station, set position, rock and both tips are pulled to more; undo puts each back', async () => {
    const { page, context, complaints } = await bench.open('fresh&calm&pattern=post&back=tuesday', {
      drawn: true,
      coarse: true,
    });
    const before: number[] = [];
    for (const [name, handle, dx, dy] of HANDLES) {
      const was = await said(page, handle);
      before.push(was);
      // A busy machine draws late: the knob may still be on its way to where the last pull has brought it.
      await expect
        .poll(async () => {
          if ((await said(page, handle)) <= was + 2) await pull(page, name, dx, dy);
          await readingDone(page);
          return said(page, handle);
        }, LONG)
        .toBeGreaterThan(was + 2);
    }
    for (const [i, [, handle]] of [...HANDLES.entries()].slice(1).reverse()) {
      await expect
        .poll(async () => {
          if ((await said(page, handle)) !== before[i]) await page.keyboard.press('Control+z');
          return said(page, handle);
        }, WITHIN)
        .toBe(before[i]);
    }
    expect(complaints).toEqual([]);
    await context.close();
  });
});
