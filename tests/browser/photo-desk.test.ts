import { readFile } from 'node:fs/promises';
import { type TracingsBackDocument, tracingSheet } from '@barwright/geometry';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { seenAt } from '../../packages/geometry/src/photo/synthetic-photo.fixture.ts';
import { fitBox } from '../../packages/viewer/src/desk/photo/view-box.ts';
import { axe, inLooks, LOOKS } from './axe.fixture.ts';
import {
  type Bench,
  figureOf,
  type OpenOptions,
  type OpenPage,
  plainText,
  readingDone,
  startBench,
} from './bench.fixture.ts';
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

async function visit(options: OpenOptions, act: (page: Page, open: OpenPage) => Promise<void>): Promise<void> {
  const open = await bench.open('fresh&calm&pattern=wren&back=heron', { ...options, coarse: true });
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
      await page.getByRole('button', { name: 'Straight onto the bench' }).click();
      await readingDone(page);
      await expect
        .poll(() => page.getByLabel('Horse', { exact: true }).textContent())
        .toMatch(/^Back from photos of tracings/);
    }));
});

/** Drags a handle on the photo to a place of the paper. */
async function dragTo(page: Page, handle: string, { camera }: Shot, place: Point): Promise<void> {
  const box = (await page.getByRole('button', { name: handle }).locator('.knob').boundingBox())!;
  const [x, y] = await onPage(page, camera, seenAt(camera, place));
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(x - 7, y + 5, { steps: 3 });
  await expect(page.locator('.photo-loupe canvas').count()).resolves.toBe(1);
  await page.mouse.move(x, y);
  await page.mouse.up();
  await expect(page.locator('.photo-loupe').count()).resolves.toBe(0);
}

describe('without the sheet', () => {
  test('four corners of a rectangle, a level line and the midline by hand: the curve within 1 mm; one length is refused', () =>
    visit({}, async (page) => {
      const section = drawnSection(200);
      const shot = shotOf(section.points, { seed: 7 });
      await choose(page, [{ name: 'board.png', bytes: shot.png }]);
      await scaleOf(page)
        .getByText(/12 marks in place/)
        .waitFor();

      await scaleOf(page).getByRole('button', { name: 'One known length' }).click();
      await page.getByLabel('The length you know').fill('297');
      const refusal = scaleOf(page).getByRole('alert');
      await expect.poll(() => refusal.textContent().then(plainText)).toMatch(/one known length \(297 mm\).*tilt/);
      await look(page, 'one-length');

      await scaleOf(page).getByRole('button', { name: 'Four corners of a rectangle' }).click();
      await page.getByLabel('Side from 1 to 2').fill('590');
      await page.getByLabel('Side from 2 to 3').fill('29.7 cm');
      const corners: Point[] = [
        [-295, 46],
        [295, 46],
        [295, 46 - 297],
        [-295, 46 - 297],
      ];
      for (const [i, at] of corners.entries()) await dragTo(page, `Corner ${i + 1} of the rectangle`, shot, at);
      await clickAlong(page, shot.camera, along(section.points, 5));
      await settled(page);
      await lineOf(page)
        .getByText(/No level mark: how the section lay/)
        .waitFor();
      await lineOf(page).getByRole('button', { name: 'Mark my level line' }).click();
      await dragTo(page, 'Level line, right end', shot, [270, 0]);
      await dragTo(page, 'Level line, left end', shot, [-270, 0]);
      await lineOf(page).getByRole('button', { name: 'Mark the midline' }).click();
      await dragTo(page, 'Midline mark', shot, [0, -100]);
      await page.getByLabel('Behind the blade edge').fill('7 7/8 in');
      await page.getByLabel('Height of its level line').fill(String(section.levelMm));
      await settled(page);
      await look(page, 'rectangle');

      await page.getByRole('button', { name: 'Another line in this photo' }).click();
      await clickAlong(page, shot.camera, along(section.points.slice(20, -20), 3));
      await settled(page);
      await expect.poll(() => page.getByRole('button', { name: 'Save the tracings' }).isEnabled()).toBe(true);
      const [curve] = (await savedDocument(page)).curves;
      expect(curve!.stationMm).toBeCloseTo(7.875 * 25.4, 6);
      expect(curve!.points.length).toBeGreaterThan(20);
      const off = curve!.points.map(([y, z]) => Math.abs(z! - heightOf(200, y!)));
      expect(Math.max(...off)).toBeLessThan(1);
      // The second line has no station: the way onto the bench leads through that question.
      await page.getByRole('button', { name: 'Straight onto the bench' }).click();
      await page.getByText('How far behind the blade edge was "line 2" traced?').first().waitFor();
    }));

  test('a file that is no picture is refused in words, the others are kept; large and turned photos are read upright', () =>
    visit({}, async (page) => {
      await choose(page, [{ name: 'notes.jpg', type: 'image/jpeg', bytes: Buffer.from('station 200, wither 14.2') }]);
      await expect
        .poll(() => page.getByRole('alert').textContent())
        .toMatch(/^notes\.jpg is not a picture that this browser can read\. Nothing was changed\./);
      const jpeg = Buffer.from(
        await page.evaluate(async () => {
          const canvas = new OffscreenCanvas(5000, 3000);
          canvas.getContext('2d')!.fillRect(0, 0, 900, 600);
          return [...new Uint8Array(await (await canvas.convertToBlob({ type: 'image/jpeg' })).arrayBuffer())];
        }),
      );
      await choose(page, [
        { name: 'nothing.png', bytes: Buffer.alloc(0) },
        { name: 'turned.jpg', type: 'image/jpeg', bytes: turnedBy90(jpeg) },
      ]);
      await page.getByText('1920 × 3200 pixels used, of 3000 × 5000').waitFor();
      await expect
        .poll(() => page.locator('.photo-tabs').getByRole('alert').textContent())
        .toMatch(/^nothing\.png is not a picture/);
      await scaleOf(page)
        .getByText(/^No mark of a tracing sheet was found/)
        .waitFor();
    }));
});

/** A JPEG with an EXIF orientation of 6: the camera was held upright (TIFF 6.0 directory with the one entry 0x0112). */
function turnedBy90(jpeg: Buffer): Buffer {
  const tiff = Buffer.from([0x4d, 0x4d, 0, 42, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, 6, 0, 0, 0, 0, 0, 0]);
  const body = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff]);
  const head = Buffer.from([0xff, 0xe1, 0, body.length + 2]);
  return Buffer.concat([jpeg.subarray(0, 2), head, body, jpeg.subarray(2)]);
}

describe('marks', () => {
  test('a covered mark is named; put by hand it holds, and undo takes it back', () =>
    visit({}, async (page) => {
      const curve = drawnSection(200).points.filter(([y]) => Math.abs(y) < 80);
      const covers = [{ at: [-80, 46 - 272] as const, radiusMm: 24 }];
      const shot = shotOf(curve, { seed: 11, tiles: 1, covers, width: 900, height: 1200 });
      await choose(page, [{ name: 'one-sheet.png', bytes: shot.png }]);
      await scaleOf(page).getByText('A4. 3 marks in place.').waitFor();
      await scaleOf(page)
        .getByText(/^Not found: bottom left of sheet 1\./)
        .first()
        .waitFor();
      await look(page, 'missing');
      await page.getByRole('button', { name: 'Put bottom left of sheet 1' }).click();
      await dragTo(page, 'Mark bottom left of sheet 1', shot, [-105 + 14, 46 - 297 + 14]);
      await scaleOf(page)
        .getByText(/^1 mark was put by hand/)
        .waitFor();
      const agree = scaleOf(page).locator('dd').first();
      await expect.poll(() => agree.textContent().then((text) => Number.parseFloat(text!))).toBeLessThan(0.6);
      await page.keyboard.press('Control+z');
      await page.keyboard.press('Control+z');
      await scaleOf(page).getByText('A4. 3 marks in place.').waitFor();
    }));
});

describe('the sheet to print', () => {
  test('true size on paper: 100 mm is 100 mm, one page for each sheet, and each can be saved', () =>
    visit({}, async (page) => {
      await page.getByRole('button', { name: 'Print a tracing sheet' }).click();
      await page.getByRole('button', { name: 'Letter' }).click();
      await page.getByRole('button', { name: '2', exact: true }).click();
      await look(page, 'print');
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.getByRole('button', { name: 'Save sheet 2' }).click(),
      ]);
      expect(download.suggestedFilename()).toBe('tracing-sheet-letter-2-of-2.svg');
      expect(await readFile((await download.path())!, 'utf8')).toBe(tracingSheet({ paper: 'letter', tiles: 2 })[1]);
      await page.emulateMedia({ media: 'print' });
      const seen = await page.evaluate(() => ({
        bench: document.querySelector('#bench')!.getBoundingClientRect().height,
        bars: [...document.querySelectorAll('.photo-paper svg line')].map((line) => line.getBoundingClientRect().width),
        pages: [...document.querySelectorAll('.photo-paper svg')].map((svg) => svg.getBoundingClientRect().width),
      }));
      const mm = 96 / 25.4;
      expect(seen.bench).toBe(0);
      expect(seen.pages.map((px) => px / mm)).toEqual([expect.closeTo(215.9, 1), expect.closeTo(215.9, 1)]);
      expect(seen.bars.filter((px) => Math.abs(px / mm - 100) < 0.3).length).toBe(2);
      const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
      expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(2);
      expect(pdf).toMatch(/\/MediaBox\s*\[0 0 61[12](\.\d+)? 79[12](\.\d+)?\]/);
    }));
});

describe.each([
  ['wide', { width: 1440, height: 900 }],
  ['phone', { width: 390, height: 844 }],
])('%s', (name, size) => {
  /** In daylight and at night. */
  const looks = LOOKS.filter(({ width }) => width === size.width);
  const expectFine = (page: Page, what: string): Promise<void> =>
    inLooks(page, looks, async ({ theme }) => {
      expect(await axe(page), theme).toEqual([]);
      await look(page, `${what}-${theme.toLowerCase()}-${name}`);
    });

  test('by keys alone: points put, moved, removed and undone; axe finds nothing serious, nothing pushes sideways', () =>
    visit(size, async (page) => {
      await expectFine(page, 'start');
      const curve = drawnSection(200).points.filter(([y]) => Math.abs(y) < 80);
      const shot = shotOf(curve, { seed: 5, tiles: 1, width: 800, height: 1100, rollDeg: 0, tiltDeg: 8 });
      await choose(page, [{ name: 'one-sheet.png', bytes: shot.png }]);
      await scaleOf(page).getByText('A4. 4 marks in place, none missing.').waitFor();
      const over = page.locator('.photo-over');
      await over.focus();
      const points = page.getByRole('button', { name: /^Point \d+ of/ });
      const [a, b] = [curve[0]!, curve.at(-1)!].map((place) => seenAt(shot.camera, place)) as [Point, Point];
      await putByKeys(page, shot, a);
      await expect.poll(() => points.count()).toBe(1);
      await putByKeys(page, shot, b);
      await expect.poll(() => points.count()).toBe(2);
      await settled(page);
      const length = async (): Promise<string> => plainText(await lineOf(page).locator('.photo-length').textContent());
      const truth = curve.slice(1).reduce((sum, p, i) => sum + Math.hypot(p[0] - curve[i]![0], p[1] - curve[i]![1]), 0);
      // The cross moves by 4 screen pixels: on the phone that is 3 mm of paper.
      expect(Math.abs(Number.parseFloat(await length()) - truth)).toBeLessThan(size.width < 800 ? 6 : 3);
      const before = await length();
      await points.last().focus();
      for (let i = 0; i < 3; i++) await page.keyboard.press('Shift+ArrowLeft');
      await expect.poll(length).not.toBe(before);
      await page.keyboard.press('Control+z');
      await expect.poll(length).toBe(before);
      await page.keyboard.press('Delete');
      await expect.poll(() => points.count()).toBe(1);
      await page.keyboard.press('Control+z');
      await expect.poll(() => points.count()).toBe(2);
      await settled(page);
      await expectFine(page, 'desk');
      const across = (): Promise<number> => page.locator('.desk').evaluate((desk) => desk.scrollWidth);
      expect(await across()).toBeLessThanOrEqual(size.width);
      await lineOf(page).scrollIntoViewIfNeeded();
      await look(page, `side-${name}`);
    }));
});

/** Brings a place of the photo under the cross by arrow keys and presses Enter. */
async function putByKeys(page: Page, { camera }: Shot, at: Point): Promise<void> {
  const over = page.locator('.photo-over');
  await over.focus();
  await page.keyboard.press('0');
  const box = (await over.boundingBox())!;
  const { scale } = fitBox(camera, box);
  const press = async (by: number, less: string, more: string): Promise<void> => {
    const steps = Math.round((by * scale) / 4);
    const key = steps < 0 ? less : more;
    for (let i = 0; i < Math.floor(Math.abs(steps) / 10); i++) await page.keyboard.press(key);
    for (let i = 0; i < Math.abs(steps) % 10; i++) await page.keyboard.press(`Shift+${key}`);
  };
  await press(at[0] - camera.width / 2, 'ArrowLeft', 'ArrowRight');
  await press(at[1] - camera.height / 2, 'ArrowUp', 'ArrowDown');
  await page.keyboard.press('Enter');
}
