import { readFile } from 'node:fs/promises';
import type { Download, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  type Bench,
  cardOf,
  figureOf,
  plainText,
  readingDone,
  rulerOf,
  startBench,
  typeValue,
} from './bench.fixture.ts';

/** A stride with bending bars, on a machine that may be busy. */
const PATIENCE = { timeout: 90_000 };

let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
});
afterAll(() => bench?.close());

const study = (page: Page, name: string) => page.getByRole('region', { name, exact: true });

async function openStudy(page: Page, name: string): Promise<void> {
  await page.getByRole('navigation', { name: 'Studies' }).getByRole('button', { name, exact: true }).click();
  await study(page, name).waitFor();
}

async function saved(page: Page, press: () => Promise<void>): Promise<string> {
  const [download] = await Promise.all([page.waitForEvent('download') as Promise<Download>, press()]);
  return readFile(await download.path(), 'utf8');
}

/** Some ten seconds of a held key; the longest bar is 200 mm away. */
const MOST_PRESSES = 150;

describe('each of the three from opening to picture', () => {
  test('tree maker: a version with less rock radius, what changed at the stations, and the sheet of what to take off', async () => {
    const { page, context, complaints } = await bench.open('fresh&calm&pattern=post&back=dumpling');
    await page.getByRole('button', { name: 'Start a version' }).click();
    await readingDone(page);
    const before = await figureOf(page, 'Lengthwise mismatch');
    await typeValue(page, 'Rock radius', '1150');
    await readingDone(page);
    await expect.poll(() => figureOf(page, 'Lengthwise mismatch'), PATIENCE).not.toBe(before);
    await openStudy(page, 'Stations');
    await expect
      .poll(async () => plainText(await study(page, 'Stations').textContent()), PATIENCE)
      .toContain('Off Post: wood');
    await openStudy(page, 'Take off');
    const sheet = study(page, 'Take off');
    // Rounder lengthwise: both ends of the underside move away from the horse, so wood comes off there.
    await expect.poll(async () => plainText(await sheet.textContent()), PATIENCE).toMatch(/left: Remove \d+/);
    const svg = await saved(page, () => sheet.getByRole('link', { name: 'Save the sheet at full size' }).click());
    expect(svg).toMatch(/<svg[^>]+width="\d+(\.\d+)?mm"/);
    expect(svg).toContain('Take off: from');
    expect(complaints).toEqual([]);
    await context.close();
  });

  test('designer: over a stride with bars that bend, rigid beside them, and more lift at the tip clears the blade further', async () => {
    const { page, context, complaints } = await bench.open('fresh&calm&pattern=post-layered&back=tuesday');
    await page.getByRole('button', { name: /^Setup:/ }).click();
    await page.getByRole('button', { name: 'Flexible', exact: true }).click();
    await readingDone(page);
    await openStudy(page, 'Shoulder');
    const shoulder = study(page, 'Shoulder');
    const leastMm = async (): Promise<number> => {
      const said = plainText(await shoulder.textContent());
      const isFirstLook = said.includes('first look') || (await shoulder.locator('.stale').count()) > 0;
      return isFirstLook ? Number.NaN : Number(/Least clearance: (-?[\d.]+) mm/.exec(said)?.[1]);
    };
    await expect.poll(leastMm, PATIENCE).not.toBeNaN();
    const before = await leastMm();
    await expect.poll(async () => plainText(await shoulder.textContent()), PATIENCE).toMatch(/rigid/i);
    await page.getByRole('button', { name: 'Spec card', exact: true }).click();
    const flare = page.getByLabel('Front flare lift', { exact: true });
    await page.locator('details.card-group', { has: flare }).locator('summary').first().click();
    await typeValue(page, 'Front flare lift', '30');
    await expect.poll(leastMm, PATIENCE).toBeGreaterThan(before + 3);
    expect(complaints).toEqual([]);
    await context.close();
  });

  test('instructor: the lesson asks before it shows, goes to its end, and comes out as a handout', async () => {
    const { page, context, complaints } = await bench.open('fresh&calm');
    await page.getByLabel('Lesson', { exact: true }).selectOption('two-lengths');
    const lesson = page.getByRole('region', { name: /^Lesson: / });
    await lesson.waitFor();
    const next = lesson.getByRole('button', { name: 'Next' });
    for (let step = 0; step < 12; step++) {
      const show = lesson.getByRole('button', { name: 'Show me' });
      if (await show.isVisible()) {
        await expect(lesson.locator('.lesson-look').count()).resolves.toBe(0);
        await show.click();
      }
      await lesson.locator('.lesson-look').waitFor();
      if (await next.isDisabled()) break;
      await next.click();
    }
    await expect(next.isDisabled()).resolves.toBe(true);
    await lesson.getByRole('button', { name: 'Handout' }).click();
    await expect
      .poll(async () => plainText(await page.locator('body').textContent()), PATIENCE)
      .toContain('saddle fitter');
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('an old laptop', () => {
  test('on a processor slowed four times a held arrow key is answered on the way, not only at its end', async () => {
    const { page, context } = await bench.open('fresh&calm&pattern=wren&back=dumpling');
    const client = await context.newCDPSession(page);
    await client.send('Emulation.setCPUThrottlingRate', { rate: 4 });
    await cardOf(page).getByLabel('Overall length', { exact: true }).focus();
    const line = rulerOf(page).locator('path.line.bearing').first();
    const seen = new Set<string | null>([await line.getAttribute('d')]);
    // The key is held until two answers were drawn; never let go, it would be held for ever by a bench that answers at the end.
    let presses = 0;
    for (; seen.size < 3 && presses < MOST_PRESSES; presses++) {
      await page.keyboard.press('ArrowUp');
      seen.add(await line.getAttribute('d'));
    }
    expect(seen.size).toBe(3);
    await readingDone(page);
    const length = await cardOf(page).getByLabel('Overall length', { exact: true }).inputValue();
    expect(Number.parseFloat(length)).toBe(500 + presses);
    await context.close();
  });
});
