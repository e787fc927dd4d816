import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type BigScan, bigScanFiles } from '../benchmarks/big-scan-files.ts';
import { type Bench, figureOf, plainText, readingDone, readingOf, startBench } from './bench.fixture.ts';

let bench: Bench;
let folder: string;
let scan: BigScan;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'barwright-big-'));
  scan = bigScanFiles(folder, 1_000_000);
  bench = await startBench();
}, 240_000);
afterAll(async () => {
  await bench?.close();
  rmSync(folder, { recursive: true, force: true });
});

/** What the strip said, how full its bar was and whether it could be seen, change by change. */
interface Seen {
  says: string;
  value: number;
  inSight: boolean;
}

/** Writes down the strip from now on, and presses Cancel the moment it says `cancelAt`. */
function watchProgress(page: Page, cancelAt: string | null): Promise<void> {
  return page.evaluate((cancelAt) => {
    const seen: Seen[] = [];
    Object.assign(window, { seen });
    let cancelled = false;
    const look = (): void => {
      const bar = document.querySelector('progress');
      if (bar === null) return;
      const says = bar.getAttribute('aria-label') ?? '';
      const { width, bottom, top } = bar.getBoundingClientRect();
      const inSight = width > 20 && top >= 0 && bottom <= window.innerHeight;
      if (seen.at(-1)?.value !== bar.value || seen.at(-1)?.says !== says)
        seen.push({ says, value: bar.value, inSight });
      if (cancelled || cancelAt === null || !says.includes(cancelAt)) return;
      cancelled = true;
      [...document.querySelectorAll('button')].find((button) => button.textContent === 'Cancel')?.click();
    };
    new MutationObserver(look).observe(document.body, { subtree: true, childList: true, attributes: true });
  }, cancelAt);
}

const seenSoFar = (page: Page): Promise<Seen[]> => page.evaluate(() => (window as unknown as { seen: Seen[] }).seen);
const horse = async (page: Page): Promise<string> =>
  plainText(await page.getByLabel('Horse', { exact: true }).locator('option').first().textContent());
const open = (page: Page): Promise<void> =>
  page.getByLabel('Files to open').setInputFiles([scan.plyPath, scan.documentPath]);

test('a scan of a million triangles says how far it is; Cancel brings the former horse back as it was; opened again it is fitted', async () => {
  const { page, context, complaints } = await bench.open('fresh&pattern=wren&back=dumpling', { drawn: true });
  try {
    await readingDone(page, true);
    const before = plainText(await readingOf(page).textContent());
    const named = await horse(page);

    await watchProgress(page, 'cleaning');
    await open(page);
    await page.waitForFunction(() => (window as unknown as { seen: Seen[] }).seen.length > 0);
    await page.waitForFunction(() => document.querySelector('progress') === null);
    await readingDone(page, true);
    expect(await horse(page)).toBe(named);
    expect(plainText(await readingOf(page).textContent())).toBe(before);
    await expect(page.getByRole('alert').count()).resolves.toBe(0);
    const first = await seenSoFar(page);
    expect(first.every(({ says, inSight }) => says.startsWith('Opening Sheet') && inSight)).toBe(true);
    expect(first.some(({ says }) => says.includes('seating'))).toBe(false);

    await watchProgress(page, null);
    await open(page);
    await page.waitForFunction(() => document.querySelector('progress') !== null);
    await readingDone(page);
    expect(await horse(page)).toBe('Sheet');
    await expect(page.locator('progress').count()).resolves.toBe(0);
    const second = await seenSoFar(page);
    const values = second.map(({ value }) => value);
    expect(values).toEqual([...values].sort((a, b) => a - b));
    expect(new Set(second.map(({ says }) => says)).size).toBeGreaterThanOrEqual(3);
    expect(await figureOf(page, 'Contact area')).toMatch(/^[1-9]\d* cm²/);

    await page.getByRole('button', { name: /Undo/ }).click();
    await readingDone(page, true);
    expect(await horse(page)).toBe(named);
    expect(plainText(await readingOf(page).textContent())).toBe(before);
    expect(complaints).toEqual([]);
  } finally {
    await context.close();
  }
}, 240_000);
