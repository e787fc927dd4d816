import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { expectFineInEveryLook } from './axe.fixture.ts';
import {
  type Bench,
  cardOf,
  type OpenPage,
  plainText,
  readingDone,
  rulerOf,
  startBench,
  typeValue,
} from './bench.fixture.ts';

let bench: Bench;
let opened: OpenPage;
let page: Page;

beforeAll(async () => {
  bench = await startBench();
  opened = await bench.open('fresh&calm&pattern=post&back=dumpling', { coarse: true });
  page = opened.page;
}, 240_000);
afterAll(async () => {
  await opened?.context.close();
  await bench?.close();
});

const slider = (name: RegExp) => rulerOf(page).getByRole('slider', { name });
const sliderMm = async (name: RegExp): Promise<number> =>
  Number.parseFloat(plainText(await slider(name).getAttribute('aria-valuetext')));
const undo = () => page.getByRole('button', { name: /Undo/ }).click();
const study = (name: string) => page.getByRole('region', { name, exact: true });
const openStudy = (name: string) =>
  page.getByRole('navigation', { name: 'Studies' }).getByRole('button', { name, exact: true }).click();

/** One page for all: each test leaves the pattern as it found it. */
describe("the tree maker's work", () => {
  test('rock and flare are dragged, stepped and typed on the ruler, each drag one step of undo', async () => {
    const before = await sliderMm(/^Rock/);
    expect(before).toBeCloseTo(15.3, 1);
    const box = (await slider(/^Rock/).locator('.knob').boundingBox())!;
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    for (const by of [4, 8, 12]) await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2 + by);
    await page.mouse.up();
    expect(await sliderMm(/^Rock/)).toBeGreaterThan(before + 1);
    await undo();
    expect(await sliderMm(/^Rock/)).toBeCloseTo(before, 1);
    await slider(/^Front tip flare/).focus();
    await page.keyboard.press('ArrowUp');
    expect(await sliderMm(/^Front tip flare/)).toBe(18.5);
    await undo();
    await slider(/^Rear tip flare/).focus();
    await page.keyboard.press('Enter');
    await page.getByLabel(/^Rear tip flare.*typed$/).fill('3/4 in');
    await page.keyboard.press('Enter');
    expect(await sliderMm(/^Rear tip flare/)).toBeCloseTo(19.1, 1);
    await undo();
    expect(await sliderMm(/^Rear tip flare/)).toBe(14);
  }, 90_000);

  test('a locked value is neither dragged nor typed, and it is said in words', async () => {
    const lock = cardOf(page).getByRole('button', { name: 'Lock Rock radius', exact: true });
    await lock.click();
    await slider(/^Rock/).focus();
    await page.keyboard.press('ArrowUp');
    expect(await sliderMm(/^Rock/)).toBeCloseTo(15.3, 1);
    await expect(page.getByRole('alert').first().textContent()).resolves.toMatch(/locked on the card/);
    await typeValue(page, 'Rock radius', '1200');
    await expect(page.getByLabel('Rock radius', { exact: true }).getAttribute('aria-invalid')).resolves.toBe('true');
    await page.getByLabel('Rock radius', { exact: true }).press('Escape');
    await lock.click();
    await typeValue(page, 'Rock radius', '1200');
    await readingDone(page);
    expect(await sliderMm(/^Rock/)).toBeGreaterThan(17);
    await undo();
  }, 90_000);

  test('versions say what changed and come back', async () => {
    await page.getByRole('button', { name: 'Start a version' }).click();
    await typeValue(page, 'Slope, front', '45');
    const card = page.locator('.versions');
    await card.locator('summary').click();
    await card.getByRole('button', { name: 'Keep as it stands' }).click();
    const list = card.getByRole('listitem');
    await list.nth(1).waitFor();
    expect(plainText(await list.first().textContent())).toContain('Slope, front 43° to 45° (+2°); since Post');
    await list.nth(1).getByRole('button', { name: 'Go back to it' }).click();
    await expect(page.getByLabel('Slope, front', { exact: true }).inputValue()).resolves.toBe('43');
    await list.first().getByRole('button', { name: 'Go back to it' }).click();
    await expect(page.getByLabel('Slope, front', { exact: true }).inputValue()).resolves.toBe('45');
  }, 90_000);

  test('the take-off from the parent has its depths, and is saved at its own size', async () => {
    await openStudy('Take off');
    const sheet = study('Take off');
    await sheet.locator('.takeoff-sheet svg').waitFor();
    await expect(sheet.textContent().then(plainText)).resolves.toMatch(/Post → Post, version 2.*left: Remove \d+/);
    const saving = page.waitForEvent('download');
    await sheet.getByRole('link', { name: 'Save the sheet at full size' }).click();
    const svg = await readFile((await (await saving).path())!, 'utf8');
    const [, width, units] = /width="([\d.]+)mm" height="[\d.]+mm" viewBox="0 0 ([\d.]+)/.exec(svg)!;
    expect(Number(units) / Number(width)).toBeCloseTo(4, 3);
    await sheet.getByLabel('Against').selectOption('wren');
    await sheet.locator('.takeoff-result:not(.stale)', { hasText: 'Wren → Post, version 2' }).waitFor();
    await expectFineInEveryLook(page);
    await page.setViewportSize({ width: 1440, height: 900 });
  }, 120_000);

  test('stations stand at one scale, with slopes, gaps and the change from the parent', async () => {
    await openStudy('Stations');
    const sheet = study('Stations');
    const stations = sheet.locator('.station');
    await stations.nth(2).waitFor();
    await expect(stations.count()).resolves.toBe(3);
    const front = plainText(await stations.first().textContent());
    expect(front).toMatch(/slope of bar ?4\d\.\d°/);
    expect(front).toContain('off Post, outer edge');
    // Only the front was changed: at the rear nothing comes off.
    const rear = stations.nth(2).getByRole('row', { name: /^off Post, middle/ });
    expect(plainText(await rear.textContent())).toMatch(/0\.0 mm.*0\.0 mm/);
    await sheet.getByRole('row', { name: /^bearing line/ }).waitFor();
    await expectFineInEveryLook(page);
    expect(opened.complaints).toEqual([]);
  }, 120_000);
});
