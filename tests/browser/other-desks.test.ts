import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { cutTracings, mapPoints, surfaceOf, withCurve } from '../../packages/geometry/src/back/tracings.fixture.ts';
import { axe, inLooks, LOOKS } from './axe.fixture.ts';
import {
  type Bench,
  figureOf,
  type OpenOptions,
  type OpenPage,
  plainText,
  readingDone,
  readingOf,
  startBench,
} from './bench.fixture.ts';

/** The worker answers late on a busy machine. */
const SOON = { timeout: 45_000 };

let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
});
afterAll(() => bench?.close());

const START = 'fresh&pattern=wren&back=dumpling';

async function visit(options: OpenOptions, act: (open: OpenPage) => Promise<void>): Promise<void> {
  const open = await bench.open(`calm&${START}`, { ...options, coarse: true });
  try {
    await act(open);
    expect(open.complaints).toEqual([]);
  } finally {
    await open.context.close();
  }
}

const file = (name: string, content: string | object) => ({
  name,
  mimeType: 'application/octet-stream',
  buffer: Buffer.from(typeof content === 'string' ? content : JSON.stringify(content)),
});

const openFiles = (page: Page, ...files: ReturnType<typeof file>[]): Promise<void> =>
  page.getByLabel('Files to open').setInputFiles(files);

const measure = (page: Page, way: 'numbers' | 'two-backs'): Promise<string[]> =>
  page.getByLabel('Measure a horse').selectOption(way);

const setTree = (page: Page) => page.getByRole('button', { name: 'Set the tree on this back' });

async function example(name: string): Promise<Record<string, unknown>> {
  return JSON.parse(await readFile(new URL(`../../examples/${name}`, import.meta.url), 'utf8'));
}

/** Dumpling's own sections as a table in centimetres: x, y, z of every traced point. */
function dumplingCsv(): string {
  const { curves } = cutTracings('dumpling', { everyMm: 75, fromMm: -75, toMm: 525 });
  const rows = curves.flatMap(({ id, stationMm, points }) =>
    points.map(([y, z]) => [id, stationMm! / 10, y / 10, z! / 10].join(',')),
  );
  return ['curve,x,y,z', ...rows].join('\n');
}

/** Tuesday's back with left and right of one station exchanged. */
function exchangedTracings() {
  const doc = cutTracings('tuesday', { everyMm: 50, fromMm: -50, toMm: 550 });
  return withCurve(doc, 'x200', (curve) => {
    const turned = mapPoints(curve, (y, z) => [-y, z]);
    return { ...turned, points: [...turned.points].reverse() as typeof turned.points };
  });
}

describe('tracings', () => {
  test('a table that names no unit is asked about, built, and the tree is set on it', () =>
    visit({ drawn: true }, async ({ page }) => {
      await openFiles(page, file('cob.csv', dumplingCsv()));
      await page.getByText('In which unit are the numbers of this file?').waitFor(SOON);
      await expect(setTree(page).isDisabled()).resolves.toBe(true);
      expect(plainText(await page.locator('.desk-missing').textContent())).toBe('Say first which unit the file is in.');
      await page.getByRole('button', { name: /^centimetres: sections 480/ }).click();
      await expect.poll(() => setTree(page).isEnabled(), SOON).toBe(true);
      // Nine stations, each drawn; eight stretches between them, each with how far it may be off.
      await expect(page.locator('.tracing-panel').count()).resolves.toBe(9);
      await expect(page.locator('.tracing-zone').count()).resolves.toBe(8);
      const doubts = (await page.locator('.tracing-doubt').allTextContents()).map((text) => Number(text.slice(1)));
      expect(doubts).toHaveLength(8);
      // A good hand's 3 mm is the least that can be said of any of them.
      expect(Math.min(...doubts)).toBeGreaterThanOrEqual(3);
      await page.getByLabel('Name of the back').fill('Dumpling, traced');
      await setTree(page).click();
      await readingDone(page);
      await expect(page.getByLabel('Horse', { exact: true }).locator('option').first().textContent()).resolves.toBe(
        'Dumpling, traced',
      );
      expect(await figureOf(page, 'Mean')).toMatch(/^\d+\.\d kPa$/);
    }));

  test('left and right exchanged: asked with figures, shown before it is taken, undone on the desk alone', () =>
    visit({}, async ({ page }) => {
      await openFiles(page, file('grey.back.json', exchangedTracings()));
      const question = page.getByRole('group', { name: /^Are left and right exchanged on "x200"/ });
      await question.waitFor(SOON);
      expect(plainText(await question.textContent())).toMatch(/differ from the neighbouring stations' by [\d.]+ mm/);
      await expect(page.locator('.tracing-panel.asked').count()).resolves.toBe(1);
      const choice = question.getByRole('button', { name: /^Yes: exchange left and right/ });
      await choice.focus();
      await page.locator('.tracing-panel.asked .tracing-would').waitFor({ ...SOON, state: 'attached' });
      await page.keyboard.press('Enter');
      await expect.poll(() => setTree(page).isEnabled(), SOON).toBe(true);
      await page.getByRole('button', { name: '↶ Undo here' }).focus();
      await page.keyboard.press('Control+z');
      await question.waitFor(SOON);
      await expect.poll(() => setTree(page).isDisabled(), SOON).toBe(true);
      await page.keyboard.press('Control+Shift+z');
      await expect.poll(() => setTree(page).isEnabled(), SOON).toBe(true);
      await page.getByRole('button', { name: 'Back to the bench' }).click();
      await readingDone(page);
      await expect(page.getByLabel('Horse', { exact: true }).locator('option').first().textContent()).resolves.toBe(
        (await example('dumpling.back.json')).name,
      );
    }));

  test('drawn curves: a missing station is given as a shop writes it; the owner stays out of the file', () =>
    visit({}, async ({ page }) => {
      const surface = surfaceOf('dumpling');
      const path = (x: number): string => {
        const row = surface.row(x);
        return Array.from(
          { length: 41 },
          (_, k) => `${k === 0 ? 'M' : 'L'}${-240 + 12 * k} ${-row(-240 + 12 * k)}`,
        ).join('');
      };
      const curve = (x: number, station: string): string =>
        `<path id="at${x}" data-kind="cross" data-side="both" data-level="0" ${station} d="${path(x)}"/>`;
      const curves = [0, 100, 200, 300, 400].map((x) => curve(x, x === 300 ? '' : `data-station="${x}"`)).join('');
      const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="600mm" height="600mm" viewBox="-300 -300 600 600">${curves}</svg>`;
      await openFiles(page, file('cob.svg', svg));
      // Drawn in the middle of a page, so that a page's edge is not the spine.
      await page.getByRole('button', { name: 'At the highest point of each section.' }).click(SOON);
      const question = page.getByRole('group', { name: /^How far behind the blade edge was "at300" traced/ });
      await question.waitFor(SOON);
      const answer = question.getByLabel(/^Or a distance/);
      await answer.fill('a hand');
      await question.getByRole('button', { name: 'Take it' }).click();
      await expect(question.getByRole('alert').textContent()).resolves.toMatch(/^Expected .+/);
      await answer.fill('30 cm');
      await question.getByRole('button', { name: 'Take it' }).click();
      await expect.poll(() => setTree(page).isEnabled(), SOON).toBe(true);
      await page.getByLabel('Owner').fill('Somebody');
      const saved = page.waitForEvent('download');
      await page.getByRole('button', { name: 'Save the document' }).click();
      const text = await readFile(await (await saved).path(), 'utf8');
      const document = JSON.parse(text);
      expect(document).toMatchObject({ kind: 'tracings', unit: 'mm', answers: { 'station:at300': '300' } });
      expect(text).not.toContain('Somebody');
    }));

  test('a table without points, one with words in it and a drawing with a script are refused in words, and the bench is as it was', () =>
    visit({}, async ({ page }) => {
      const before = plainText(await readingOf(page).textContent());
      for (const [name, content] of [
        ['empty.csv', 'curve,x,y,z\n'],
        ['words.csv', 'curve,x,y,z\nfront,0,left,3\n'],
        ['script.svg', '<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>'],
      ] as const) {
        await openFiles(page, file(name, content));
        const alert = page.locator('.desk').getByRole('alert');
        await alert.waitFor(SOON);
        expect(plainText(await alert.textContent()), name).toMatch(/^Expected .+\. .+/);
        await page.getByRole('button', { name: 'Back to the bench' }).click();
        await readingDone(page);
        expect(plainText(await readingOf(page).textContent()), name).toBe(before);
      }
    }));
});

describe('a few numbers', () => {
  test('by keyboard alone: every number lights its dimension, doubts are asked, and the tree is set', () =>
    visit({}, async ({ page }) => {
      await measure(page, 'numbers');
      await page.locator('.numbers-panel').first().waitFor(SOON);
      const label = (): Promise<string> =>
        page.evaluate(() => {
          const at = document.activeElement!;
          const own = document.querySelector(`label[for="${CSS.escape(at.id)}"]`);
          return (own?.textContent ?? at.textContent ?? '').trim();
        });
      const tabTo = async (name: RegExp): Promise<void> => {
        for (let i = 0; i < 80; i++) {
          if (name.test(await label())) return;
          await page.keyboard.press('Tab');
        }
        throw new Error(`Tab never came to ${name}`);
      };
      const type = async (name: RegExp, text: string): Promise<void> => {
        await tabTo(name);
        await page.keyboard.type(text);
      };
      await page.getByRole('button', { name: 'Back to the bench' }).focus();
      await type(/^Usable length/, '17 1/2 in');
      await expect(page.locator('.numbers-figure .dimension.lit > text').last().textContent()).resolves.toMatch(/445/);
      await type(/^Dip/, '1-1/4');
      await tabTo(/^1 1\/4 in$/);
      await page.keyboard.press('Enter');
      await expect(page.getByLabel(/^Dip/).inputValue()).resolves.toBe('1 1/4 in');
      await type(/^Width across/, '160');
      await expect(page.locator('.numbers-panel .dimension.lit').count()).resolves.toBe(1);
      await type(/^Slope behind/, '44');
      await expect(page.locator('.numbers-panel .dimension.lit').count()).resolves.toBe(2);
      await type(/^Slope in the middle/, '34');
      expect(plainText(await page.locator('.desk-missing').textContent())).toMatch(/^Still to be measured: Slope at/);
      await type(/^Slope at the last rib/, '26');
      await expect(page.locator('.dimension.average').count()).resolves.toBe(1);
      await type(/^Name of the back/, 'Grey, by hand');
      await tabTo(/^Set the tree on this back$/);
      await page.keyboard.press('Enter');
      await readingDone(page);
      const said = plainText(await readingOf(page).textContent());
      expect(said).toMatch(/Back measured by not stated on \d{4}-\d\d-\d\d, ±12\.0 mm, ±4\.0°/);
      expect(await figureOf(page, 'Mean')).toMatch(/^\d+\.\d kPa$/);
    }));

  test('the drawing follows every keystroke; what cannot be is said beside its field', () =>
    visit({}, async ({ page }) => {
      await measure(page, 'numbers');
      await page.locator('.numbers-panel').first().waitFor(SOON);
      const line = (): Promise<string | null> => page.locator('.numbers-figure .back-line').getAttribute('d');
      const drawn = [await line()];
      for (const text of ['4', '42', '420']) {
        await page.getByLabel(/^Usable length/).fill(text);
        drawn.push(await line());
      }
      // 4 and 42 mm are no length of a back: the last drawing stays, dimmed; 420 mm is drawn at once.
      expect(drawn[1]).toBe(drawn[0]);
      expect(drawn[2]).toBe(drawn[0]);
      expect(drawn[3]).not.toBe(drawn[0]);
      const slope = page.getByLabel(/^Slope in the middle/);
      await slope.fill('80');
      await expect(slope.getAttribute('aria-invalid')).resolves.toBe('true');
      const says = page.locator(`[id="${await slope.getAttribute('aria-describedby')}"]`);
      expect(plainText(await says.textContent())).toMatch(/^Expected 0 to 65 \(found 80\)/);
      await expect(page.locator('.numbers-look.stale').count()).resolves.toBe(1);
      await slope.fill('34');
      await expect(page.locator('.numbers-look.stale').count()).resolves.toBe(0);
      await expect(page.getByText(/^What is assumed: \d+ values$/).count()).resolves.toBe(1);
    }));
});

/** Tuesday twice: in autumn steeper by 4 degrees on both sides ahead of the middle. */
async function springAndAutumn() {
  const tuesday = await example('tuesday.back.json');
  const measured = { ...(tuesday.measured as object), uncertaintyMm: 1, uncertaintyDeg: 0.5 };
  const stations = tuesday.stationsMm as number[];
  const slopeDeg = (tuesday.slopeDeg as number[][]).map((row, i) =>
    row.map((slope, j) => (j > 0 && stations[i]! >= 0 && stations[i]! <= 200 ? slope + 4 : slope)),
  );
  return [
    file('spring.back.json', { ...tuesday, name: 'Tuesday', measured: { ...measured, on: '2020-03-01' } }),
    file('autumn.back.json', { ...tuesday, name: 'Tuesday', slopeDeg, measured: { ...measured, on: '2020-09-01' } }),
  ] as const;
}

describe('two backs', () => {
  test('before and after: table, map and cut agree; swapped, every change turns its sign; the later one is set', () =>
    visit({}, async ({ page }) => {
      await measure(page, 'two-backs');
      await page.getByLabel('Before').selectOption('demo tuesday', SOON);
      await page.getByText('These two may not be one horse:').waitFor(SOON);
      const [spring, autumn] = await springAndAutumn();
      await page.getByLabel('Backs to compare').setInputFiles([spring, autumn, file('odd.back.json', '{"schema":7')]);
      await page.getByLabel('Before').selectOption({ label: 'Tuesday, 2020-03-01' }, SOON);
      await page.getByLabel('After').selectOption({ label: 'Tuesday, 2020-09-01' });
      await expect(page.locator('.desk').getByRole('alert').first().textContent()).resolves.toMatch(/^Expected/);
      const changes = async (): Promise<string[]> =>
        (await page.locator('.change-table tbody td:nth-of-type(1)').allTextContents()).map(plainText);
      await page.getByRole('button', { name: 'By their landmarks' }).click();
      await expect.poll(async () => (await changes()).length, SOON).toBe(6);
      await page.locator('.two-backs-look[aria-busy="false"]').waitFor(SOON);
      const forward = await changes();
      const map = page.locator('.change-sheet svg');
      expect(plainText(await map.textContent())).toContain(`${forward[0]!.replace(' mm', '')} mm`);
      expect(plainText(await page.getByRole('region', { name: 'What changed' }).textContent())).toMatch(
        /Measured on 2020-09-01; measure again: due since 2020-11-01/,
      );
      await page.getByRole('button', { name: 'Swap' }).click();
      const turned = forward.map((text) =>
        text.startsWith('+') ? text.replace('+', '-') : text.startsWith('-') ? text.replace('-', '+') : text,
      );
      await expect.poll(changes, SOON).toEqual(turned);
      await page.getByRole('button', { name: '↶ Undo here' }).click();
      await expect.poll(changes, SOON).toEqual(forward);
      await page.getByRole('button', { name: 'Set the tree on the later back' }).click();
      await readingDone(page);
      expect(plainText(await readingOf(page).textContent())).toMatch(
        /Back measured by .+ on 2020-09-01.+Measured on 2020-09-01; measure again: due since 2020-11-01/,
      );
      // What lies on the bench now is compared, not what lay there when the desk was open before.
      await measure(page, 'two-backs');
      await page.getByLabel('Before').selectOption('demo tuesday', SOON);
      await page.getByText(/^After: Tuesday, 2020-09-01/).waitFor(SOON);
    }));

  test('the same back twice is no comparison; a scan is compared with its mesh, stopped on the way and asked again', () =>
    visit({}, async ({ page }) => {
      await measure(page, 'two-backs');
      await page.getByLabel('Before').selectOption('bench', SOON);
      await page.getByText('Before and after are the same back.', { exact: false }).first().waitFor(SOON);
      await page
        .getByLabel('Backs to compare')
        .setInputFiles(['tuesday-scan.back.json', 'tuesday-scan.ply'].map((name) => `examples/${name}`));
      await page.getByLabel('Before').selectOption('demo tuesday');
      const scan = page.getByLabel('After').locator('option', { hasText: /scan/i });
      await scan.waitFor({ ...SOON, state: 'attached' });
      await page.getByLabel('After').selectOption((await scan.getAttribute('value'))!);
      await page.getByRole('button', { name: 'Stop' }).click(SOON);
      await page.getByText('Stopped.').waitFor(SOON);
      await page.getByRole('button', { name: 'Compare again' }).click();
      await page.locator('.change-table').waitFor(SOON);
      await expect(page.locator('.change-table tbody tr').count()).resolves.toBe(6);
    }));
});

describe('for everyone', () => {
  test('axe finds nothing serious or critical on the three desks, and none is wider than its page', () =>
    visit({}, async ({ page }) => {
      const check = async (): Promise<void> => {
        await inLooks(page, LOOKS, async ({ width, theme }) => {
          expect(await axe(page), `${theme}, ${width} px`).toEqual([]);
          const across = await page.locator('.desk').evaluate((desk) => desk.scrollWidth - desk.clientWidth);
          expect(across).toBeLessThanOrEqual(0);
        });
        await page.getByRole('button', { name: 'Back to the bench' }).click();
      };
      await openFiles(page, file('grey.back.json', exchangedTracings()));
      await page.getByRole('group', { name: /^Are left and right exchanged/ }).waitFor(SOON);
      await check();
      await measure(page, 'numbers');
      await page.getByText(/^What is assumed/).click(SOON);
      await page.getByLabel(/^Dip/).fill('1-1/4');
      await check();
      await measure(page, 'two-backs');
      const [spring, autumn] = await springAndAutumn();
      await page.getByLabel('Backs to compare').setInputFiles([spring, autumn]);
      await page.getByLabel('Before').selectOption({ label: 'Tuesday, 2020-03-01' }, SOON);
      await page.getByLabel('After').selectOption({ label: 'Tuesday, 2020-09-01' });
      await page.locator('.change-table').waitFor(SOON);
      await check();
    }));
});
