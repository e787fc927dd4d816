import { readFile } from 'node:fs/promises';
import type { TracingsBackDocument } from '@barwright/geometry';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { axe } from './axe.fixture.ts';
import { type Bench, figureOf, type OpenPage, plainText, readingDone, startBench } from './bench.fixture.ts';
import { clickAlong, drawnSection, heightOf, onPage, type Point, type Shot, shotOf } from './photo-desk.fixture.ts';

let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
});
afterAll(() => bench?.close());

const LOOK = process.env.BENCH_SHOTS;
const look = async (page: Page, name: string): Promise<void> => {
  if (LOOK !== undefined) await page.screenshot({ path: `${LOOK}/photo-${name}.png` });
};

async function visit(
  options: { width?: number; height?: number; dark?: boolean },
  act: (page: Page, open: OpenPage) => Promise<void>,
): Promise<void> {
  const open = await bench.open('fresh&pattern=wren&back=heron', options);
  try {
    await open.page.getByLabel('Measure a horse').selectOption('photo');
    await open.page.getByRole('button', { name: 'Choose photos' }).waitFor();
    await act(open.page, open);
    expect(open.complaints).toEqual([]);
  } finally {
    await open.context.close();
  }
}

const choose = (page: Page, files: readonly { name: string; bytes: Buffer; type?: string }[]): Promise<void> =>
  page
    .getByLabel('Photos to read')
    .first()
    .setInputFiles(files.map(({ name, bytes, type }) => ({ name, mimeType: type ?? 'image/png', buffer: bytes })));

const scaleOf = (page: Page) => page.getByRole('region', { name: 'Scale of the photo' });
const lineOf = (page: Page) => page.getByRole('region', { name: 'The line' });
const settled = (page: Page): Promise<void> => lineOf(page).locator('[aria-busy="false"] .photo-length').waitFor();

async function savedDocument(page: Page): Promise<TracingsBackDocument> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the tracings' }).click(),
  ]);
  return JSON.parse(await readFile((await download.path())!, 'utf8'));
}

/** Places at even shares of a curve, ends included. */
const along = (points: readonly Point[], count: number): Point[] =>
  Array.from({ length: count }, (_, i) => points[Math.round((i / (count - 1)) * (points.length - 1))]!);

describe('three stations traced on our sheet', () => {
  test('photos in, marks found, a few clicks each, curves within 1 mm of the back, then a back and a fit', () =>
    visit({}, async (page) => {
      await look(page, 'start');
      const sections = [-50, 200, 450].map(drawnSection);
      const shots = sections.map(({ points }, i) => shotOf(points, { seed: i + 1 }));
      await choose(
        page,
        shots.map(({ png }, i) => ({ name: `station-${sections[i]!.stationMm}.png`, bytes: png })),
      );
      for (const [i, section] of sections.entries()) {
        await page.getByRole('button', { name: `station-${section.stationMm}.png`, exact: true }).click();
        await scaleOf(page)
          .getByText(/A4, sheets 1, 2, 3 of 3\. 12 marks in place, none missing/)
          .waitFor();
        await clickAlong(page, shots[i]!.camera, along(section.points, 5));
        await settled(page);
        await page.getByLabel('Behind the blade edge').fill(String(section.stationMm));
        await page.getByLabel('Height of its level line').fill(String(section.levelMm));
        await settled(page);
        if (i === 0) await look(page, 'line');
      }
      const out = page.getByRole('button', { name: 'Go on to the tracings' });
      await expect.poll(() => out.isEnabled()).toBe(true);
      await look(page, 'three');

      const document_ = await savedDocument(page);
      expect(document_.curves.map(({ stationMm }) => stationMm)).toEqual([-50, 200, 450]);
      for (const curve of document_.curves) {
        const off = curve.points.map(([y, z]) => Math.abs(z! - heightOf(curve.stationMm!, y!)));
        expect(curve.points.length).toBeGreaterThan(20);
        expect(Math.max(...off)).toBeLessThan(1);
        const widths = curve.points.map(([y]) => y!);
        expect(Math.max(...widths) - Math.min(...widths)).toBeGreaterThan(300);
      }

      await out.click();
      const set = page.getByRole('button', { name: 'Set the tree on this back' });
      await expect.poll(() => set.isEnabled(), { timeout: 20_000 }).toBe(true);
      await look(page, 'tracings');
      await set.click();
      await readingDone(page);
      expect(Number.parseFloat(await figureOf(page, 'Contact area'))).toBeGreaterThan(100);
      await page.getByLabel('Measure a horse').selectOption('photo');
      await expect(page.getByRole('button', { name: 'station-200.png', exact: true }).count()).resolves.toBe(1);
    }));
});
