import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { expectFineInEveryLook, TWO_LOOKS } from './axe.fixture.ts';
import { type Bench, cardOf, readingDone, readingOf, startBench } from './bench.fixture.ts';

/** A key is answered in the next frames, which a busy machine draws late. */
const SOON = { timeout: 10_000 };

let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
});
afterAll(() => bench?.close());

describe('in every look', () => {
  test('axe finds nothing serious or critical, with card, cut and cautions open too', async () => {
    const { page, context, complaints } = await bench.open('fresh&pattern=wren-630-r1750&back=dumpling', {
      dark: true,
      drawn: true,
      coarse: true,
    });
    // What the reader's own computer asks for comes first.
    await expect(page.locator('html').getAttribute('data-theme')).resolves.toBe('dark');
    await readingDone(page, true);
    await expectFineInEveryLook(page);
    await readingOf(page).locator('.sentence').first().click();
    await page.locator('details.cautions > summary').click();
    await page.getByRole('button', { name: 'Open cut' }).click();
    await page.getByRole('region', { name: 'Station cut' }).locator('svg').waitFor();
    await expectFineInEveryLook(page, TWO_LOOKS);
    await page.getByRole('button', { name: 'Close cut' }).click();
    await page.getByRole('button', { name: /^Setup/ }).click();
    await page.getByRole('region', { name: 'Setup' }).waitFor();
    await expectFineInEveryLook(page, TWO_LOOKS);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('phone', () => {
  test('at 390 and at 360 px nothing pushes the page sideways, and the last button of the header can be pressed', async () => {
    const { page, context } = await bench.open('fresh&pattern=rail&back=dumpling', {
      width: 390,
      height: 844,
      coarse: true,
    });
    await readingDone(page, true);
    const across = (): Promise<number> => page.evaluate(() => document.documentElement.scrollWidth);
    const toWidth = async (width: number): Promise<void> => {
      await page.setViewportSize({ width, height: 844 });
      await expect.poll(across, SOON).toBeLessThanOrEqual(width);
    };
    for (const width of [390, 360]) await toWidth(width);
    await page.getByRole('banner').getByRole('button', { name: 'Dark', exact: true }).click();
    await expect.poll(() => page.locator('html').getAttribute('data-theme'), SOON).toBe('dark');
    await page.getByRole('button', { name: 'Spec card' }).click();
    await cardOf(page).getByLabel('Overall length', { exact: true }).scrollIntoViewIfNeeded();
    for (const width of [360, 390]) await toWidth(width);
    await context.close();
  });
});

describe('keyboard alone', () => {
  test('reach the length, change it, move the marker, open a sentence and the cut, undo', async () => {
    const { page, context, complaints } = await bench.open('fresh&pattern=wren&back=dumpling', { coarse: true });
    const focused = (): Promise<string> =>
      page.evaluate(() => {
        const at = document.activeElement!;
        const id = at.getAttribute('id');
        const label = id === null ? null : document.querySelector(`label[for="${CSS.escape(id)}"]`);
        return (at.getAttribute('aria-label') ?? label?.textContent ?? at.textContent ?? '').trim();
      });
    const tabTo = async (name: RegExp): Promise<void> => {
      for (let i = 0; i < 160; i++) {
        if (name.test(await focused())) return;
        await page.keyboard.press('Tab');
      }
      throw new Error(`Tab never came to ${name}`);
    };

    await tabTo(/^Overall length$/);
    await page.keyboard.type('630');
    await page.keyboard.press('Enter');
    await readingDone(page);
    const length = (): Promise<string> => cardOf(page).getByLabel('Overall length', { exact: true }).inputValue();
    await expect.poll(length, SOON).toBe('630');
    await page.keyboard.press('ArrowUp');
    await expect.poll(length, SOON).toBe('631');

    await tabTo(/^Station marker/);
    const marker = page.getByRole('slider', { name: /^Station marker/ });
    const before = Number(await marker.getAttribute('aria-valuenow'));
    await page.keyboard.press('Shift+ArrowRight');
    await expect.poll(async () => Number(await marker.getAttribute('aria-valuenow')), SOON).toBe(before + 10);

    await readingDone(page, true);
    const sentence = (await readingOf(page).locator('.sentence').first().textContent())!.slice(0, 30);
    await tabTo(new RegExp(`^${sentence.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}`));
    await page.keyboard.press('Space');
    await expect.poll(() => readingOf(page).locator('li.selected').count(), SOON).toBe(1);

    await tabTo(/^Open cut$/);
    await page.keyboard.press('Enter');
    await page.getByRole('region', { name: 'Station cut' }).waitFor();

    await page.keyboard.press('Control+z');
    await page.keyboard.press('Control+z');
    await expect.poll(length, SOON).toBe('500');
    expect(complaints).toEqual([]);
    await context.close();
  });

  test('whatever has the focus shows it', async () => {
    const { page, context } = await bench.open('fresh&calm&pattern=wren&back=dumpling', { coarse: true });
    const unseen: string[] = [];
    const names = new Set<string>();
    for (let i = 0; i < 60; i++) {
      await page.keyboard.press('Tab');
      const seen = await page.evaluate(() => {
        const at = document.activeElement!;
        const style = getComputedStyle(at);
        const inner = at.querySelector('.knob');
        const ring = style.outlineStyle !== 'none' && Number.parseFloat(style.outlineWidth) > 0;
        const marked = inner !== null && Number.parseFloat(getComputedStyle(inner).strokeWidth) > 2;
        return { name: at.outerHTML.slice(0, 120), isSeen: at === document.body || ring || marked };
      });
      names.add(seen.name);
      if (!seen.isSeen) unseen.push(seen.name);
    }
    expect(unseen).toEqual([]);
    expect(names.size).toBeGreaterThan(30);
    await context.close();
  });
});
