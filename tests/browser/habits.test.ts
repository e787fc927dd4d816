import { readFile } from 'node:fs/promises';
import { fitDocuments, readBack, readPattern, SETUP_DEFAULTS } from '@barwright/geometry';
import { type Browser, chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { figureText, METRIC, pressureFigure } from '../../packages/viewer/src/look/format.ts';
// @ts-expect-error a plain script shared with the benchmarks, without types
import { chromiumPath, flatArgs } from '../browser-path.mjs';
import { type Bench, figureOf, plainText, readingDone, startBench } from './bench.fixture.ts';
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
