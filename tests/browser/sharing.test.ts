import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { readBench, seededRandom } from '@barwright/geometry';
import type { Download, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { figureText, lengthFigure, METRIC, pressureFigure } from '../../packages/viewer/src/look/format.ts';
import { openWorkshop, type Workshop } from '../cli/run-command.ts';
import { type Bench, cardOf, figureOf, plainText, ROOT, readingDone, startBench, typeValue } from './bench.fixture.ts';

let bench: Bench;
let shop: Workshop;
beforeAll(async () => {
  [bench, shop] = await Promise.all([startBench(), openWorkshop()]);
});
afterAll(async () => {
  await Promise.all([bench?.close(), shop?.close()]);
});

const WITHIN = { timeout: 10_000 };
const SCAN = ['tuesday-scan.back.json', 'tuesday-scan.ply'].map((name) => join(ROOT, 'examples', name));
const MUTANTS = 60;
const lengthOf = (page: Page): Promise<string> =>
  cardOf(page).getByLabel('Overall length', { exact: true }).inputValue();

/** The link that the panel offers; the panel is closed again. */
async function linkOf(page: Page): Promise<string> {
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  const field = page.getByRole('dialog', { name: 'Save and share' }).getByLabel('A link that holds it all');
  await expect.poll(() => field.inputValue(), WITHIN).toContain('#bench=');
  const link = await field.inputValue();
  await page.keyboard.press('Escape');
  return link;
}

const FIGURES = ['Mean', '95th percentile', 'Height', 'Clearance at the fork'] as const;

const figuresOf = async (page: Page): Promise<string[]> => {
  const figures: string[] = [];
  for (const name of FIGURES) figures.push(await figureOf(page, name));
  return figures;
};

/** The same lines from what `barwright fit` prints of a file, in the page's words. */
async function commandFigures(file: string): Promise<string[]> {
  const { contact, pose, spine } = JSON.parse((await shop.run(['fit', file])).stdout).result;
  const pressures = [contact.meanPressureKPa, contact.p95PressureKPa].map((kPa) => pressureFigure(kPa, METRIC));
  const lengths = [lengthFigure(pose.heightMm, METRIC), lengthFigure(spine.atForkMm, METRIC, { decimals: 0 })];
  return [...pressures, ...lengths].map((figure) => plainText(figureText(figure)));
}

const jsonOf = async (download: Download): Promise<unknown> =>
  JSON.parse(await readFile(await download.path(), 'utf8'));

describe('the whole bench is handed on', () => {
  test('by a link: the same figures, undone in one step, gone from the address', async () => {
    const { page: sender, context } = await bench.open('fresh&calm&pattern=wren&back=heron');
    await typeValue(sender, 'Overall length', '521');
    await readingDone(sender);
    const mean = await figureOf(sender, 'Mean');
    const link = await linkOf(sender);
    await context.close();

    const { page, context: other, complaints } = await bench.open('fresh&calm&pattern=rail');
    await page.evaluate((hash) => {
      window.location.hash = hash;
    }, new URL(link).hash);
    await expect.poll(() => lengthOf(page), WITHIN).toBe('521');
    await readingDone(page);
    expect(await figureOf(page, 'Mean')).toBe(mean);
    expect(page.url()).not.toContain('#');
    await page.keyboard.press('Control+z');
    await expect.poll(() => lengthOf(page), WITHIN).not.toBe('521');
    expect(complaints).toEqual([]);
    await other.close();
  });

  test(`by a link that was cut or altered ${MUTANTS} times (seed 6201): refused in words or read, and the bench stands`, async () => {
    const { page, context, complaints } = await bench.open('fresh&calm&pattern=wren&back=heron');
    const length = await lengthOf(page);
    const hash = new URL(await linkOf(page)).hash;
    const random = seededRandom(6201);
    const anywhere = (): number => 7 + Math.floor(random() * (hash.length - 7));
    let refused = 0;
    for (let i = 0; i < MUTANTS; i++) {
      const at = anywhere();
      const mutant = [hash.slice(0, at), `${hash.slice(0, at)}A${hash.slice(at + 1)}`, `${hash.slice(0, at)}%<${hash}`][
        i % 3
      ]!;
      await page.evaluate((text) => {
        window.location.hash = text;
      }, mutant);
      await page.waitForFunction(() => window.location.hash === '');
      await expect.poll(() => page.locator('.strip').count(), WITHIN).toBeGreaterThan(0);
      refused += await page.getByRole('alert').filter({ hasText: 'the link' }).count();
      expect(await cardOf(page).count()).toBe(1);
      await page.locator('.strip').getByRole('button', { name: 'Close' }).first().click();
    }
    expect(refused).toBeGreaterThan(MUTANTS / 2);
    expect(await lengthOf(page)).toBe(length);
    // Two kilobytes that unpack to a hundred megabytes.
    const bomb = await page.evaluate(async () => {
      const zeros = new Blob(Array.from({ length: 100 }, () => new Uint8Array(1 << 20)));
      const packed = await new Response(zeros.stream().pipeThrough(new CompressionStream('deflate-raw'))).bytes();
      return btoa(String.fromCharCode(...packed.subarray(0, 30_000)))
        .replaceAll('+', '-')
        .replaceAll('/', '_');
    });
    await page.evaluate((text) => {
      window.location.hash = `bench=${text}`;
    }, bomb);
    await page.getByRole('alert').filter({ hasText: 'unpacks to more' }).waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  test('as one file, which the geometry reads to the same figures; opened elsewhere it can be opened again', async () => {
    const { page, context, complaints } = await bench.open('fresh&calm&pattern=post');
    await page.getByLabel('Files to open').setInputFiles(SCAN);
    await page.getByText(/^Opened tuesday-scan/).waitFor();
    await readingDone(page);
    const mean = await figureOf(page, 'Mean');
    await page.keyboard.press('s');
    const panel = page.getByRole('dialog', { name: 'Save and share' });
    await panel.getByText(/too large for a link/).waitFor();
    const saving = page.waitForEvent('download');
    await panel.getByRole('button', { name: 'Save as one file' }).click();
    const json = await jsonOf(await saving);
    const read = readBench(json);
    expect(read.bench.back.mesh?.base64.length).toBeGreaterThan(10_000);
    await page.keyboard.press('Escape');

    await page.getByLabel('Pattern', { exact: true }).selectOption('rail');
    await page.getByLabel('Horse', { exact: true }).selectOption('heron');
    await readingDone(page);
    expect(await figureOf(page, 'Mean')).not.toBe(mean);
    const buffer = Buffer.from(JSON.stringify(json));
    const file = { name: 'mine.bench.json', mimeType: 'application/json', buffer };
    await page.getByLabel('Files to open').setInputFiles(file);
    await page.getByText('Opened mine.bench.json.').waitFor();
    await readingDone(page);
    expect(await figureOf(page, 'Mean')).toBe(mean);
    await page.keyboard.press('Control+z');
    await readingDone(page);
    await page.keyboard.press('k');
    const opened = page.locator('li', { hasText: 'mine.bench.json' });
    await opened.getByRole('button', { name: 'Open again' }).click();
    await expect.poll(() => figureOf(page, 'Mean'), { timeout: 20_000 }).toBe(mean);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('a part that fails', () => {
  test('takes nothing with it: the rest works, the bench can be saved whole, and a reload has it all', async () => {
    const { page, context } = await bench.open('fresh&calm&pattern=wren&back=heron');
    await typeValue(page, 'Overall length', '533');
    await page.route(/ReachStudy|reach/i, (route) => route.abort());
    await page.getByRole('navigation', { name: 'Studies' }).getByRole('button', { name: 'Reach', exact: true }).click();
    const strip = page.getByRole('alert').filter({ hasText: 'A part of the page stopped' });
    await strip.waitFor();
    await readingDone(page);
    expect(await lengthOf(page)).toBe('533');
    await typeValue(page, 'Overall length', '534');
    const saving = page.waitForEvent('download');
    await strip.getByRole('button', { name: 'Save as one file' }).click();
    await writeFile(join(shop.folder, 'kept.bench.json'), JSON.stringify(await jsonOf(await saving)));
    await readingDone(page);
    expect(await figuresOf(page)).toEqual(await commandFigures('kept.bench.json'));
    await page.getByText(/^Saved \d\d:\d\d, kept in this browser$/).waitFor();
    await page.goto(`${bench.url}?test&calm`);
    await readingDone(page);
    expect(await lengthOf(page)).toBe('534');
    await context.close();
  });
});
