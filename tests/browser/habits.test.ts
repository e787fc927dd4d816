import { readFile } from 'node:fs/promises';
import { fitDocuments, readBack, readPattern, SETUP_DEFAULTS } from '@barwright/geometry';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { figureText, METRIC, pressureFigure } from '../../packages/viewer/src/look/format.ts';
// @ts-expect-error a plain script shared with the benchmarks, without types
import { chromiumPath, flatArgs } from '../browser-path.mjs';
import { type Bench, cardOf, figureOf, plainText, readingDone, startBench, typeValue } from './bench.fixture.ts';
import { oneFileAddress } from './one-file.fixture.ts';

let bench: Bench;
let browser: Browser;
beforeAll(async () => {
  bench = await startBench();
  browser = await chromium.launch({ executablePath: await chromiumPath(), args: flatArgs });
}, 60_000);
afterAll(async () => {
  await browser?.close();
  await bench?.close();
});

/** Mean pressure of Post on Tuesday as the geometry has it, in the page's words. */
async function meanOfPostOnTuesday(): Promise<string> {
  const read = async (name: string): Promise<unknown> =>
    JSON.parse(await readFile(new URL(`../../examples/${name}`, import.meta.url), 'utf8'));
  const fit = fitDocuments({
    pattern: readPattern(await read('post.pattern.json')),
    back: readBack(await read('tuesday.back.json')),
    setup: SETUP_DEFAULTS,
  });
  return plainText(figureText(pressureFigure(fit.result.contact.meanPressureKPa, METRIC)));
}

describe('where there is no network', () => {
  test('the bench in one file opens from the disk, without WebGL too, with the geometry’s own figures', async () => {
    const address = await oneFileAddress();
    const context = await browser.newContext({ offline: true });
    const page = await context.newPage();
    const complaints: string[] = [];
    page.on('pageerror', (error) => complaints.push(error.message));
    page.on('request', (request) => {
      if (!/^(data|blob):/.test(request.url()) && request.url().split('?')[0] !== address)
        complaints.push(request.url());
    });
    await page.goto(`${address}?calm&pattern=post&back=tuesday`);
    await readingDone(page);
    expect(await figureOf(page, 'Mean')).toBe(await meanOfPostOnTuesday());
    await page.getByText(/can't draw in three dimensions here/).waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  test('the served bench opens again without its server once it has been open', async () => {
    const { page, context } = await bench.open('calm&offline&pattern=post&back=tuesday');
    await page.evaluate(async () => void (await navigator.serviceWorker.ready));
    await context.setOffline(true);
    await page.reload();
    await readingDone(page);
    expect(await figureOf(page, 'Mean')).toBe(await meanOfPostOnTuesday());
    await context.close();
  });
});

const lengthOf = (page: Page): Promise<string> =>
  cardOf(page).getByLabel('Overall length', { exact: true }).inputValue();
const saved = (page: Page): Promise<void> => page.getByText(/^Saved \d\d:\d\d, kept in this browser$/).waitFor();

/** Types a length and waits until it is written. */
async function keepLength(page: Page, text: string): Promise<void> {
  await typeValue(page, 'Overall length', text);
  await page.getByText('keeping…').waitFor({ state: 'detached' });
  await saved(page);
}

describe('work is kept', () => {
  test('two tabs keep to themselves, a crash and a reload lose nothing, and one can go back and undo that', async () => {
    const { page: first, context, complaints } = await bench.open('fresh&calm&pattern=wren&back=heron');
    context.setDefaultTimeout(10_000);
    await keepLength(first, '521');
    const second = await context.newPage();
    await second.goto(`${bench.url}?test&calm`);
    await readingDone(second);
    await second.getByText(/Another tab has Wren on Heron/).waitFor();
    expect(await lengthOf(second)).not.toBe('521');
    await keepLength(second, '555');
    await first.bringToFront();
    await first.goto(`${bench.url}?test&calm`);
    await readingDone(first);
    expect(await lengthOf(first)).toBe('521');
    await second.bringToFront();
    await second.getByRole('button', { name: 'Open a copy here' }).click();
    await expect.poll(() => lengthOf(second)).toBe('521');
    await second.keyboard.press('Control+z');
    await expect.poll(() => lengthOf(second)).toBe('555');
    await saved(second);
    expect(complaints).toEqual([]);

    await first.close();
    const session = await context.newCDPSession(second);
    const crashed = second.waitForEvent('crash');
    // A renderer that is gone never answers.
    session.send('Page.crash').catch(() => undefined);
    await crashed;
    const third = await context.newPage();
    await third.goto(`${bench.url}?test&calm`);
    await readingDone(third);
    expect(await lengthOf(third)).toBe('555');

    await third.keyboard.press('k');
    const kept = third.getByRole('dialog', { name: 'Kept in this browser' });
    await kept
      .getByText(/Wren on Heron/)
      .first()
      .waitFor();
    await kept.locator('li', { hasText: 'as opened' }).getByRole('button', { name: 'Go back to this' }).click();
    await expect.poll(() => lengthOf(third)).toBe('560');
    await third.getByRole('button', { name: /Undo/ }).click();
    await expect.poll(() => lengthOf(third)).toBe('555');
    await context.close();
  });
});

describe('keys', () => {
  test('the list opens by its key, what it lists works, and nothing fires while one types', async () => {
    const { page, context, complaints } = await bench.open('fresh&calm');
    await page.keyboard.press('?');
    await page.getByRole('dialog', { name: 'Keys' }).getByText('Metric or shop units').waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    const shop = page.getByRole('button', { name: /in, psi, lb/ });
    await page.keyboard.press('u');
    await expect.poll(() => shop.getAttribute('aria-pressed'), { timeout: 10_000 }).toBe('true');
    await page.getByLabel('Pattern name').focus();
    await page.keyboard.type('u?kd');
    expect(await page.getByRole('dialog').count()).toBe(0);
    expect(await shop.getAttribute('aria-pressed')).toBe('true');
    expect(complaints).toEqual([]);
    await context.close();
  });
});
