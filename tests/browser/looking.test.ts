import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Bench, plainText, readingDone, startBench } from './bench.fixture.ts';

const PATIENCE = { timeout: 90_000 };
const ON = 'fresh&pattern=post&back=dumpling';

let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
});
afterAll(() => bench?.close());

const probe = (page: Page) => page.getByRole('region', { name: 'Probe' });

/** What the probe's line says, by name. */
async function probed(page: Page): Promise<Record<string, string>> {
  const rows = await probe(page).locator('dl > div').allTextContents();
  return Object.fromEntries(
    rows.map((row) => {
      const [, name, figure] = /^(\D+?)\s*([-+]?\d.*|no data)$/.exec(plainText(row)) ?? [];
      return [name ?? row, figure ?? ''];
    }),
  );
}

const WITHIN = { timeout: 10_000 };

describe('without WebGL', () => {
  test(
    'the probe reads across the station by keys, two of its places make a distance, and the maps are drawn',
    PATIENCE,
    async () => {
      const { page, complaints } = await bench.open(ON);
      expect(await page.locator('.scene-picture').textContent()).toContain('flat maps of the undersides');
      const across = page.getByRole('slider', { name: /^Probe across/ });
      await across.press('ArrowRight');
      await expect
        .poll(() => probed(page))
        .toMatchObject({ 'behind blade': expect.stringMatching(/^(19[7-9]|20[0-3]) mm$/) });
      const first = await probed(page);
      expect(first.clearance ?? first.squeeze).toMatch(/^\d+\.\d mm$/);
      expect(await across.getAttribute('aria-valuetext')).toContain('Right bar');
      await expect.poll(() => probe(page).locator('[aria-live]').textContent()).toContain('bar falls');

      await page.getByRole('button', { name: 'Measure', exact: true }).click();
      await page.getByRole('button', { name: 'Take this point' }).click();
      for (let i = 0; i < 2; i++) await across.press('ArrowLeft');
      await page.getByRole('button', { name: 'Take this point' }).click();
      const list = page.getByRole('region', { name: 'Measured distances' });
      const said = plainText(await list.getByRole('listitem').textContent());
      const [straight, along, sideways, up] = [...said.matchAll(/([-+]?\d+\.\d) mm/g)].map(([, n]) => Number(n));
      // From beside the right bar's inner edge to the left one's: across the gullet, to the left.
      expect(sideways).toBeLessThan(-50);
      expect(Math.abs(Math.hypot(along!, sideways!, up!) - straight!)).toBeLessThan(0.2);
      // It belongs to the horse that it was measured on, and is kept with the view.
      await page.getByRole('combobox', { name: 'Horse', exact: true }).selectOption('heron');
      await expect.poll(() => list.getByRole('listitem').count()).toBe(0);
      await page.keyboard.press('Control+z');
      await expect.poll(() => list.getByRole('listitem').count()).toBe(1);
      await page.getByText(/^Saved \d\d:\d\d, kept in this browser$/).waitFor();
      await page.goto(`${bench.url}?test`);
      await expect.poll(async () => plainText(await list.getByRole('listitem').textContent()), PATIENCE).toBe(said);
      await list.getByRole('button', { name: 'Remove distance 1' }).click();
      await expect.poll(() => list.count()).toBe(0);

      await page.getByRole('button', { name: 'Maps' }).click();
      const sheet = page.locator('.maps-sheet svg');
      await sheet.waitFor();
      for (const colour of ['squeeze', 'curvature', 'data']) {
        await page.getByLabel('Colour by').selectOption(colour);
        await expect.poll(() => sheet.textContent()).toMatch(new RegExp(`${colour}.*Post on Dumpling`, 'i'));
      }
      await page.getByLabel('Colour by').selectOption('clearance');
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.getByRole('button', { name: 'Save this map as SVG' }).click(),
      ]);
      expect(download.suggestedFilename()).toBe('post-clearance.map.svg');
      const svg = await readFile((await download.path())!, 'utf8');
      expect(svg).toContain('core bearing zone');
      expect(svg).toContain('does not examine a horse');
      expect(complaints).toEqual([]);
      await page.context().close();
    },
  );
});

describe('in the picture', () => {
  test('the pointer reads an underside, and a cut changes what is drawn', PATIENCE, async () => {
    const { page, complaints } = await bench.open(`${ON}&from=below`, { drawn: true });
    const canvas = page.locator('.scene-picture canvas');
    await canvas.waitFor();
    const box = (await canvas.boundingBox())!;
    let read: Record<string, string> = {};
    for (const share of [0.35, 0.4, 0.6, 0.65]) {
      await page.mouse.move(box.x + box.width * 0.5, box.y + box.height * share);
      await expect.poll(() => probe(page).locator('dl > div').count()).toBeGreaterThan(0);
      read = await probed(page);
      if (read['from tip'] !== undefined) break;
    }
    expect(read['from tip']).toMatch(/^\d+ mm$/);
    expect(read.clearance ?? read.squeeze).toMatch(/^\d+\.\d mm$/);

    // Controls and probe lie over the picture's edges: what is drawn is looked at between them.
    const clip = { x: box.x, y: box.y + 45, width: box.width, height: box.height - 90 };
    const drawn = (): Promise<Buffer> => page.screenshot({ clip });
    await readingDone(page, true);
    let before = await drawn();
    // The last frames of opening may still be on their way.
    await expect
      .poll(async () => {
        const now = await drawn();
        const isStill = before.equals(now);
        before = now;
        return isStill;
      }, WITHIN)
      .toBe(true);
    await page.getByLabel('Cut at the station').check();
    await expect.poll(async () => before.equals(await drawn()), WITHIN).toBe(false);
    await page.getByLabel('Cut at the station').uncheck();
    await expect.poll(async () => before.equals(await drawn()), WITHIN).toBe(true);

    // A kept view brings the colours back, and is still there when the page is opened anew.
    await page.getByText(/^Saved views/).click();
    await page.getByLabel('Name', { exact: true }).fill('from below');
    await page.getByRole('button', { name: 'Keep this view' }).click();
    await page.getByRole('button', { name: 'Curvature', exact: true }).click();
    await page.getByRole('button', { name: 'Look from left' }).click();
    const left = await drawn();
    await page.getByRole('button', { name: 'from below', exact: true }).click();
    expect(await page.getByRole('button', { name: 'Clearance', exact: true }).getAttribute('aria-pressed')).toBe(
      'true',
    );
    await expect.poll(async () => left.equals(await drawn()), WITHIN).toBe(false);

    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save picture' }).click(),
    ]);
    expect(download.suggestedFilename()).toBe('post-clearance.picture.png');
    const png = await readFile((await download.path())!);
    expect(png.readUInt32BE(16)).toBe(3000);
    expect(png.length).toBeGreaterThan(50_000);
    await page.getByText(/^Saved .*kept in this browser$/).waitFor();
    await page.goto(`${bench.url}?test`);
    await page.getByText('Saved views (1)').click();
    await page.getByRole('button', { name: 'from below', exact: true }).waitFor();
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
