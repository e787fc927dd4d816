import { readFile } from 'node:fs/promises';
import {
  buildBack,
  buildTree,
  FINDING_WORDS,
  type HowSure,
  howSure,
  NEAR_RATIO,
  type Reach,
  reachOf,
  reachSentences,
  readBack,
  readPattern,
  readRider,
  readShelf,
  resolvePattern,
  type SizeResult,
  sizeShelf,
} from '@barwright/geometry';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { figureText, METRIC, pressureFigure, SHOP } from '../../packages/viewer/src/look/format.ts';
import { massOfLoad } from '../../packages/viewer/src/study/sizing/capacity-mass.ts';
import { axe, expectFineInEveryLook } from './axe.fixture.ts';
import {
  type Bench,
  COARSE_SETUP,
  cardOf,
  type OpenOptions,
  type OpenPage,
  plainText,
  startBench,
} from './bench.fixture.ts';

let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
});
afterAll(() => bench?.close());

const LONG = { timeout: 100_000 };

async function example(name: string): Promise<Record<string, unknown>> {
  return JSON.parse(await readFile(new URL(`../../examples/${name}`, import.meta.url), 'utf8'));
}

async function visit(query: string, options: OpenOptions, act: (open: OpenPage) => Promise<void>): Promise<void> {
  const open = await bench.open(`fresh&calm&${query}`, { ...options, coarse: true });
  try {
    await act(open);
    expect(open.complaints).toEqual([]);
  } finally {
    await open.context.close();
  }
}

/** Two seats, two widths, one kind of tips of the demo shelf. */
async function smallShelf(): Promise<Record<string, unknown>> {
  const shelf = await example('quillback-lane.shelf.json');
  const pick = (key: string, labels: string[]): unknown =>
    (shelf[key] as { label: string }[]).filter(({ label }) => labels.includes(label));
  return {
    ...shelf,
    name: 'Two by two',
    seats: ['16 in', '18 in'],
    widths: pick('widths', ['steep', 'flat']),
    tips: pick('tips', ['lifted tips']),
  };
}

const jsonFile = (name: string, value: unknown) => ({
  name,
  mimeType: 'application/json',
  buffer: Buffer.from(JSON.stringify(value)),
});

function drain<T, R>(steps: Generator<T, R>): R {
  for (;;) {
    const next = steps.next();
    if (next.done === true) return next.value;
  }
}

const backNamed = async (id: string) => buildBack(readBack(await example(`${id}.back.json`)));

const sized = new Map<string, Promise<SizeResult>>();

/** The small shelf sized for a horse in the test itself, once. */
function sizedHere(horse: string): Promise<SizeResult> {
  const size = async (): Promise<SizeResult> =>
    drain(
      sizeShelf({
        rider: readRider(await example('heavy.rider.json')),
        shelf: readShelf(await smallShelf()),
        pattern: readPattern(await example('post.pattern.json')),
        back: await backNamed(horse),
        setup: COARSE_SETUP,
      }),
    );
  const result = sized.get(horse) ?? size();
  sized.set(horse, result);
  return result;
}

const studyOf = (page: Page, name: string) => page.getByRole('region', { name, exact: true });
const openStudy = (page: Page, name: string): Promise<void> =>
  page.getByRole('navigation', { name: 'Studies' }).getByRole('button', { name, exact: true }).click();
const sizingOf = (page: Page) => studyOf(page, 'Sizing');
const answerOf = async (page: Page): Promise<string> =>
  plainText(await sizingOf(page).locator('.sizing-answer').textContent());
const cellOf = (page: Page, id: string) => sizingOf(page).locator(`button[data-tree="${id}"]`);
const sizingDone = async (page: Page, trees: number): Promise<void> => {
  await page.waitForFunction(
    (count) =>
      document.querySelectorAll('.sizing button[data-tree]').length === count &&
      document.querySelector('.sizing .run-line') === null,
    trees,
    LONG,
  );
};
const openSmall = async (page: Page): Promise<void> =>
  page
    .getByLabel('Files to open')
    .setInputFiles([
      jsonFile('two-by-two.shelf.json', await smallShelf()),
      jsonFile('heavy.rider.json', await example('heavy.rider.json')),
    ]);

/** Every cell and every reason of the page against the same shelf sized in the test. */
async function expectCells(page: Page, { rows, closest }: SizeResult): Promise<void> {
  for (const [i, row] of rows.entries()) {
    const cell = cellOf(page, `${row.seat}, ${row.width}, ${row.tip}`);
    const text = plainText(await cell.textContent());
    expect(text).toContain(FINDING_WORDS[row.worst!.code]);
    expect(text).toContain(`${row.worst!.ratio.toFixed(1)}×`);
    const p95 = Math.max(...row.cases.map(({ p95PressureKPa }) => p95PressureKPa));
    expect(text).toContain(`p95 ${plainText(figureText(pressureFigure(p95, METRIC)))}`);
    const bare = plainText(figureText(massOfLoad(row.capacity.withoutPad!.firstN, METRIC)));
    const padded = massOfLoad(row.capacity.withPad.firstN, METRIC).number;
    expect(text).toContain(`bears ${padded} / ${bare}`);
    await cell.click();
    const said = plainText(await sizingOf(page).locator('.tree-detail .reason').textContent());
    if (i === closest) expect(said).toContain('Closest of this shelf');
    else expect(said).toBe(row.reason);
    await expect(sizingOf(page).locator('.cases > li').count()).resolves.toBe(row.cases.length);
    for (const { name } of row.cases)
      await expect(sizingOf(page).locator('.cases strong', { hasText: name }).count()).resolves.toBe(1);
  }
}

describe('sizing', () => {
  test('a heavy rider gets one answer on Heron and another on Dumpling, each with its reasons, as sizeShelf has them; axe finds nothing serious', async () => {
    const heron = await sizedHere('heron');
    const dumpling = await sizedHere('dumpling');
    expect(heron.closest).not.toBeNull();
    expect(dumpling.closest).toBeNull();
    await visit('pattern=post&back=heron', {}, async ({ page }) => {
      await openSmall(page);
      await sizingDone(page, 4);
      const taken = heron.rows[heron.closest!]!;
      expect(await answerOf(page)).toContain(`Closest of this shelf: ${taken.seat}, ${taken.width}, ${taken.tip}`);
      expect(await answerOf(page)).toContain(FINDING_WORDS[taken.worst!.code]);
      await expect(sizingOf(page).locator('button.closest').count()).resolves.toBe(1);
      await expectCells(page, heron);
      // By keys alone a tree is reached.
      const cell = cellOf(page, '16 in, steep, lifted tips');
      await cell.focus();
      await page.keyboard.press('Enter');
      await expect(cell.getAttribute('aria-pressed')).resolves.toBe('true');
      await expect(
        sizingOf(page).getByRole('region', { name: 'Tree shown' }).locator('h3').textContent(),
      ).resolves.toBe('16 in, steep, lifted tips');
      await expectFineInEveryLook(page);

      await page.getByLabel('Horse', { exact: true }).selectOption('dumpling');
      await page.waitForFunction(() => document.querySelector('.sizing button.closest') === null, null, LONG);
      await sizingDone(page, 4);
      const said = await answerOf(page);
      expect(said).toContain('Nothing on this shelf is near this back');
      expect(said).toContain(`more than ${NEAR_RATIO} times`);
      for (const sentence of dumpling.needed) expect(said).toContain(plainText(sentence));
      await expectCells(page, dumpling);
    });
  });

  test('trees come in one by one, Stop keeps them, Go on goes on, another rider starts anew', () =>
    visit('pattern=post&back=heron', {}, async ({ page }) => {
      await openStudy(page, 'Sizing');
      const cells = sizingOf(page).locator('button[data-tree]');
      await cells.first().waitFor(LONG);
      const first = await cells.count();
      expect(first).toBeLessThan(30);
      await expect(sizingOf(page).locator('.waiting').count()).resolves.toBe(30 - first);
      await sizingOf(page).getByRole('button', { name: 'Stop' }).click();
      // The tree that was being settled still comes.
      await page.waitForTimeout(1500);
      const kept = await cells.count();
      expect(kept).toBeLessThan(30);
      await page.waitForTimeout(1000);
      expect(await cells.count()).toBe(kept);
      await expect(sizingOf(page).locator('.run-line').textContent()).resolves.toContain('Stopped');
      await sizingOf(page).getByRole('button', { name: 'Go on' }).click();
      await cells.nth(kept).waitFor(LONG);
      expect(await sizingOf(page).locator('tbody th[scope="rowgroup"]').first().textContent()).toMatch(/^17 in/);
      await sizingOf(page)
        .getByRole('combobox', { name: 'Rider', exact: true })
        .selectOption({ label: 'A light rider' });
      await page.waitForFunction(
        () => document.querySelector('.sizing tbody th[scope="rowgroup"]')?.textContent?.startsWith('13 1/2 in'),
        null,
        LONG,
      );
      const [anew, waiting] = await sizingOf(page).evaluate((study) => [
        study.querySelectorAll('button[data-tree]').length,
        study.querySelectorAll('.waiting').length,
      ]);
      expect(waiting).toBeGreaterThan(0);
      expect(anew! + waiting!).toBe(30);
    }));

  test('a tree put on the bench brings its pattern, load and pad, and one undo takes all of it off', () =>
    visit('pattern=wren&back=heron', { drawn: true }, async ({ page }) => {
      await openSmall(page);
      const cell = cellOf(page, '18 in, steep, lifted tips');
      await cell.waitFor(LONG);
      await cell.click();
      await sizingOf(page).getByRole('button', { name: 'Put it on the bench' }).click();
      const slope = cardOf(page).getByLabel('Slope, front', { exact: true });
      await expect(slope.inputValue()).resolves.toBe('47');
      await expect(cardOf(page).getByLabel('Pattern name').inputValue()).resolves.toContain('steep 18 in');
      await expect(sizingOf(page).getByText('one undo takes it off').count()).resolves.toBe(1);
      await page.getByRole('button', { name: 'Setup: load, pad, legs' }).click();
      const rider = page.getByLabel('Rider', { exact: true }).last();
      expect(Number.parseFloat(await rider.inputValue())).toBeCloseTo(230 * 0.45359237, 0);
      await page.getByRole('button', { name: /Undo/ }).click();
      expect(await rider.inputValue()).toBe('80');
      await page.getByRole('button', { name: 'Spec card' }).click();
      await expect(slope.inputValue()).resolves.toBe('36');
      // It asked no new question: the table is still there.
      await expect(cell.count()).resolves.toBe(1);
    }));

  test('masses follow the units of the page, and a weight that nobody has is refused in words', () =>
    visit('pattern=post&back=heron', {}, async ({ page }) => {
      await page.getByRole('button', { name: 'in, psi, lb' }).click();
      await openSmall(page);
      const mass = sizingOf(page).getByLabel('Mass, lb');
      await expect(mass.inputValue()).resolves.toBe('230');
      const cell = cellOf(page, '18 in, flat, lifted tips');
      await cell.waitFor(LONG);
      const heron = (await sizedHere('heron')).rows.find(({ seatMm, width }) => seatMm > 450 && width === 'flat')!;
      const bare = plainText(figureText(massOfLoad(heron.capacity.withoutPad!.firstN, SHOP)));
      expect(plainText(await cell.textContent())).toContain(`/ ${bare}`);
      await mass.fill('9000');
      await mass.press('Enter');
      await sizingOf(page).getByRole('alert').waitFor();
      expect(plainText(await sizingOf(page).getByRole('alert').textContent())).toMatch(/22 to 661 lb, found 9000 lb/);
    }));

  test('a shelf whose pattern is nowhere is refused by name; a good one beside it is used', () =>
    visit('pattern=post&back=heron', {}, async ({ page }) => {
      const shelf = await smallShelf();
      await page
        .getByLabel('Files to open')
        .setInputFiles([
          jsonFile('lost.shelf.json', { ...shelf, name: 'Lost', pattern: 'nobody.pattern.json' }),
          jsonFile('two-by-two.shelf.json', shelf),
        ]);
      await expect(
        sizingOf(page).getByRole('combobox', { name: 'Shelf', exact: true }).locator('option:checked').textContent(),
      ).resolves.toBe('Two by two');
      const strip = plainText(await page.locator('.strip-error').textContent());
      expect(strip).toContain('lost.shelf.json');
      expect(strip).toContain('Open lost.shelf.json and nobody.pattern.json together');
    }));
});

describe('how sure', () => {
  test('bands, shares of horses and the measurement to repeat are those of howSure', async () => {
    const tree = buildTree(resolvePattern(readPattern(await example('post.pattern.json'))));
    const sure: HowSure = drain(howSure(tree, await backNamed('tuesday'), COARSE_SETUP, { draws: 50 }));
    await visit('pattern=post&back=tuesday', {}, async ({ page }) => {
      await openStudy(page, 'How sure');
      const study = studyOf(page, 'How sure');
      await study.getByLabel('Horses drawn').selectOption('50');
      await study.locator('.sure-foot', { hasText: '50 horses drawn, seed 1' }).waitFor(LONG);
      await expect(study.locator('tr[data-figure]').count()).resolves.toBe(Object.keys(sure.bands).length);
      const peak = study.locator('tr[data-figure="peakPressureKPa"]');
      const { value, low, high } = sure.bands.peakPressureKPa!;
      const shown = (await peak.locator('.band-value, .band-end').allTextContents()).map(plainText);
      expect(shown).toEqual([value, low, high].map((kPa) => plainText(figureText(pressureFigure(kPa, METRIC)))));
      const rows = study.locator('.sure-findings > li');
      await expect(rows.count()).resolves.toBe(sure.findings.length);
      expect(sure.findings.some(({ isOpen }) => isOpen)).toBe(true);
      for (const [i, { code, share, isOpen, isShown }] of sure.findings.entries()) {
        const text = plainText(await rows.nth(i).textContent());
        expect(text).toContain(`${FINDING_WORDS[code]} shown by ${Math.round(100 * share)} of 100`);
        expect(text.includes('can’t tell from these measurements')).toBe(isOpen);
        expect(text.includes('do not show it')).toBe(!isShown);
      }
      const repeat = plainText(await study.locator('.sure-repeat').textContent());
      expect(sure.repeat).not.toBeNull();
      expect(repeat).toContain(sure.repeat === 'set position' ? 'Marking where the tree is set' : sure.repeat!);
      expect(await axe(page)).toEqual([]);
    });
  });

  test('stopped, it keeps nothing half done and goes on where it was', () =>
    visit('pattern=post&back=tuesday', { width: 390, height: 844 }, async ({ page }) => {
      await openStudy(page, 'How sure');
      const study = studyOf(page, 'How sure');
      await study.getByLabel('Horses drawn').selectOption('500');
      await study.getByText(/^[1-9]\d* of 500 horses drawn/).waitFor(LONG);
      await study.getByRole('button', { name: 'Stop' }).click();
      const said = async (): Promise<string> => plainText(await study.locator('.run-line span').textContent());
      await expect.poll(said, LONG).toMatch(/^Stopped\. \d+ of 500 horses drawn$/);
      await expect(study.locator('.sure-findings').count()).resolves.toBe(0);
      await study.getByRole('button', { name: 'Go on' }).click();
      await study.locator('.sure-foot', { hasText: '500 horses drawn' }).waitFor(LONG);
      expect(await axe(page)).toEqual([]);
    }));
});

describe('reach', () => {
  test('the map, its sentences and the node under the keys are those of reachOf', async () => {
    const tree = buildTree(resolvePattern(readPattern(await example('wren.pattern.json'))));
    const reach: Reach = drain(reachOf(tree, await backNamed('tuesday'), COARSE_SETUP));
    await visit('pattern=wren&back=tuesday', { dark: true }, async ({ page }) => {
      await openStudy(page, 'Reach');
      const study = studyOf(page, 'Reach');
      await study.getByText(/^[1-9]\d* of 238 backs and places/).waitFor(LONG);
      const map = study.getByRole('slider', { name: /^Reach map/ });
      await map.waitFor(LONG);
      const text = plainText(await study.textContent());
      for (const sentence of reachSentences(reach)) expect(text).toContain(plainText(sentence));
      await map.focus();
      const count = reach.slopesDeg.length;
      const middle = (count - 1) / 2;
      const nodeSaid = (column: number, row: number): string => {
        const { code, ratio } = reach.nodes[row * count + column]!;
        return `${FINDING_WORDS[code!]} ${ratio!.toFixed(1)} times its rule`;
      };
      expect(await map.getAttribute('aria-valuetext')).toContain(nodeSaid(middle, middle));
      await map.press('ArrowRight');
      await map.press('ArrowRight');
      await map.press('ArrowDown');
      const said = (await map.getAttribute('aria-valuetext'))!;
      expect(said).toContain(nodeSaid(middle + 2, middle - 1));
      expect(said).toContain(`${reach.slopesDeg[middle + 2]!.toFixed(1)}° steeper`);
      await expect(map.locator('.read-node').count()).resolves.toBe(1);
      expect(await axe(page)).toEqual([]);
    });
  });
});
