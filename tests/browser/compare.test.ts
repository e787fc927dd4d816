import { readFile } from 'node:fs/promises';
import { CAUTIONS, compareFits, type FitResult, fitDocuments, readBack, readPattern } from '@barwright/geometry';
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { figureText, gapFigure, METRIC, pressureFigure, SHOP } from '../../packages/viewer/src/look/format.ts';
import { sentenceIn } from '../../packages/viewer/src/look/sentence.ts';
import { expectFineInEveryLook, TWO_LOOKS } from './axe.fixture.ts';
import { type Bench, COARSE_SETUP, plainText, readingDone, startBench, tabTo } from './bench.fixture.ts';

let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
});
afterAll(() => bench?.close());

const LONG = { timeout: 60_000 };
const HORSES = ['dumpling', 'heron', 'tuesday'] as const;

async function resultOf(pattern: string, back: string): Promise<FitResult> {
  const read = async (name: string): Promise<unknown> =>
    JSON.parse(await readFile(new URL(`../../examples/${name}.json`, import.meta.url), 'utf8'));
  const documents = {
    pattern: readPattern(await read(`${pattern}.pattern`)),
    back: readBack(await read(`${back}.back`)),
  };
  return fitDocuments({ ...documents, setup: COARSE_SETUP }).result;
}

const study = (page: Page, name: string): Locator => page.getByRole('region', { name, exact: true });
const openStudy = (page: Page, name: string): Promise<void> =>
  page.getByRole('navigation', { name: 'Studies' }).getByRole('button', { name, exact: true }).click();
const runDone = (page: Page, name: string): Promise<void> =>
  expect.poll(() => study(page, name).locator('progress').count(), LONG).toBe(0) as Promise<void>;

const cellsOf = async (table: Locator, label: string): Promise<string[]> => {
  const row = table.locator('tr', { has: table.page().getByRole('rowheader', { name: label, exact: true }) });
  return (await row.locator('td').allTextContents()).map(plainText);
};

/** The sentences are the geometry's, put into inches and psi; then back again. */
async function inShopUnits(page: Page, sentences: readonly string[]): Promise<void> {
  await page.getByRole('button', { name: 'in, psi, lb' }).click();
  const told = (): Promise<string[]> =>
    study(page, 'Compare').locator('.compare-sentences li').allTextContents() as Promise<string[]>;
  for (const sentence of sentences)
    expect((await told()).map(plainText)).toContain(plainText(`A to B: ${sentenceIn(sentence, SHOP)}`));
  expect((await told()).join()).not.toMatch(/\d[ \u2009](mm|kPa|kg|cm2)\b/);
  await page.getByRole('button', { name: 'mm, kPa, kg' }).click();
}

/** Which less which is said on screen and on the page that is saved, which has every caution in full. */
async function differenceAndPaper(page: Page): Promise<void> {
  const compare = study(page, 'Compare');
  await compare.getByLabel('Difference map').check();
  await compare.locator('.compare-controls select').first().selectOption({ label: 'A less B' });
  await compare
    .getByText(/^A less B: /)
    .first()
    .waitFor();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    compare.getByRole('button', { name: 'Save as one drawing (SVG)' }).click(),
  ]);
  const svg = plainText(await readFile(await download.path(), 'utf8'));
  expect(svg).toMatch(/^<svg .*<\/svg>$/s);
  expect(svg).not.toMatch(/NaN|undefined/);
  expect(svg).toContain('A less B');
  const words = svg.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
  for (const { full } of CAUTIONS) expect(words).toContain(full.split(/[.:;]/)[0]!.slice(0, 40));
  await compare.getByLabel('Difference map').uncheck();
}

describe('results side by side', () => {
  test('what differs is told as the geometry tells it, on one axis; taken out, put back and undone; axe finds nothing serious', async () => {
    const { page, context, complaints } = await bench.open('fresh&calm&pattern=post&back=tuesday', { coarse: true });
    const [post, rail] = [await resultOf('post', 'tuesday'), await resultOf('rail', 'tuesday')];
    await page.getByRole('button', { name: 'Keep for comparing' }).click();
    await page.getByLabel('Pattern', { exact: true }).selectOption('rail');
    await readingDone(page);
    await openStudy(page, 'Compare');
    const compare = study(page, 'Compare');
    await compare.locator('.compare-tables').waitFor(LONG);
    await expect.poll(() => compare.locator('.compare-result[aria-busy="false"]').count(), LONG).toBe(1);

    const said = (await compare.locator('.compare-sentences li').allTextContents()).map(plainText);
    for (const sentence of compareFits(rail, post)) expect(said).toContain(plainText(`A to B: ${sentence}`));
    expect(said.length).toBeGreaterThan(0);
    const p95 = [rail, post].map(({ contact }) =>
      plainText(figureText(pressureFigure(contact.p95PressureKPa, METRIC))),
    );
    expect(await cellsOf(compare, '95th percentile')).toEqual(p95);
    // Both results stand on one axis: what is the horse's lies at the same places.
    const brackets = compare.locator('.compare-drawing').getByText(/^usable/);
    await expect(brackets.count()).resolves.toBe(2);
    const [above, below] = [await brackets.nth(0).boundingBox(), await brackets.nth(1).boundingBox()];
    expect(Math.abs(above!.x - below!.x)).toBeLessThan(0.5);
    expect(below!.y - above!.y).toBeGreaterThan(100);
    await expectFineInEveryLook(page, TWO_LOOKS);

    await page.setViewportSize({ width: 1440, height: 900 });
    await inShopUnits(page, compareFits(rail, post));
    await differenceAndPaper(page);
    await compare.getByLabel('Name of Post on Tuesday').fill('before');
    await compare.getByLabel('Name of Post on Tuesday').press('Enter');
    await compare.getByRole('button', { name: 'Put back on the bench: before' }).click();
    await expect.poll(() => page.getByLabel('Pattern name').inputValue(), LONG).toBe('Post');
    await page.getByRole('button', { name: /Undo/ }).click();
    await expect.poll(() => page.getByLabel('Pattern name').inputValue(), LONG).toBe('Rail');
    await compare.getByRole('button', { name: 'Take out: before' }).click();
    await expect.poll(() => compare.getByLabel('Name of before').count(), LONG).toBe(0);
    expect(complaints).toEqual([]);
    await context.close();
  });

  test('three results by the keyboard alone, lettered in their order; the first taken away, the others move up', async () => {
    const { page, context, complaints } = await bench.open('fresh&calm&pattern=post&back=tuesday', { coarse: true });
    for (const [kept, horse] of [
      ['Tuesday', 'Dumpling'],
      ['Dumpling', 'Heron'],
    ] as const) {
      await tabTo(page, '.study-keep');
      await page.keyboard.press('Enter');
      await page.getByText(`Kept as “Post on ${kept}”`).waitFor();
      await page.getByRole('combobox', { name: 'Horse', exact: true }).focus();
      await page.keyboard.type(horse);
      await readingDone(page);
    }
    await tabTo(page, '#study-compare');
    await page.keyboard.press('Enter');
    const compare = study(page, 'Compare');
    const letters = (): Promise<string> => compare.locator('.compare-kept strong').allTextContents().then(String);
    const brackets = compare.locator('.compare-drawing').getByText(/^usable/);
    const drawn = (): Promise<number> => brackets.count();
    await expect.poll(letters, LONG).toBe('A,B,C');
    await expect.poll(drawn, LONG).toBe(3);
    await tabTo(page, '.compare-kept li:nth-child(1) input[type=checkbox]');
    await page.keyboard.press('Space');
    await expect.poll(letters, LONG).toBe('–,A,B');
    await expect.poll(drawn, LONG).toBe(2);
    for (const name of ['Post on Tuesday', 'Post on Dumpling'])
      expect(await compare.getByLabel(`Name of ${name}`).count()).toBe(1);
    expect(complaints).toEqual([]);
    await context.close();
  });

  test('one pattern over the horses, worst first by the rule that is said; a row goes on the bench; axe finds nothing serious', async () => {
    const { page, context, complaints } = await bench.open('fresh&calm&pattern=post&back=tuesday', { coarse: true });
    await openStudy(page, 'Horses');
    const horses = study(page, 'Horses');
    await expect.poll(() => horses.locator('tbody tr').count(), LONG).toBe(HORSES.length);
    await runDone(page, 'Horses');
    const results = await Promise.all(HORSES.map(async (horse) => ({ horse, ...(await resultOf('post', horse)) })));
    const size = ({ mismatch }: FitResult): number =>
      Math.max(Math.abs(mismatch.lengthwiseLeftMm!), Math.abs(mismatch.lengthwiseRightMm!));
    const worst = [...results].sort((a, b) => size(b) - size(a));
    const rows = (await horses.locator('tbody tr').allTextContents()).map(plainText);
    for (const [i, { horse, mismatch }] of worst.entries()) {
      expect(rows[i]!.toLowerCase()).toContain(horse);
      expect(rows[i]).toContain(plainText(figureText(gapFigure(mismatch.lengthwiseLeftMm, METRIC))));
    }
    await expectFineInEveryLook(page, TWO_LOOKS);
    await page.setViewportSize({ width: 1440, height: 900 });
    await horses
      .locator('tbody tr', { hasText: 'Heron' })
      .getByRole('button', { name: /^Open on the bench/ })
      .click();
    await readingDone(page);
    expect(
      await page.getByRole('combobox', { name: 'Horse', exact: true }).locator('option').first().textContent(),
    ).toBe('Heron');
    for (const name of ['Maps', 'Stations', 'Take off']) {
      await openStudy(page, name);
      await study(page, name).locator('svg').first().waitFor(LONG);
      await expectFineInEveryLook(page, TWO_LOOKS.slice(1));
      await page.setViewportSize({ width: 1440, height: 900 });
    }
    expect(complaints).toEqual([]);
    await context.close();
  });
});
