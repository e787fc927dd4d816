// The first minute of a lesson: asked before it is shown, held values refused, words explained, read from across a room, on paper, written.
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { expectFineInEveryLook, LOOKS, TWO_LOOKS } from './axe.fixture.ts';
import {
  type Bench,
  type OpenPage,
  plainText,
  readingDone,
  readingOf,
  startBench,
  tabTo,
  typeValue,
} from './bench.fixture.ts';

let bench: Bench;
let open: OpenPage;
beforeAll(async () => {
  bench = await startBench();
  open = await bench.open('calm&fresh', { width: 1920, height: 1080 });
});
afterAll(() => bench?.close());

const lessonOf = () => open.page.getByRole('region', { name: /^Lesson: / });
const curves = () => open.page.locator('.ruler .curves');

describe('a lesson', () => {
  test('asks before it shows: reading, curves and sentence are kept back until the answer', async () => {
    const { page } = open;
    await page.getByLabel('Lesson', { exact: true }).selectOption('two-lengths');
    await readingDone(page);
    await lessonOf().getByRole('button', { name: 'Next' }).click();
    await page.getByRole('button', { name: 'It grows' }).waitFor();
    expect(await readingOf(page).locator('dl').count()).toBe(0);
    expect(await curves().evaluate((element) => getComputedStyle(element).visibility)).toBe('hidden');
    expect(await lessonOf().getByText('about 8 mm').count()).toBe(0);
    await page.getByRole('button', { name: 'It grows' }).click();
    await readingDone(page);
    expect(await curves().evaluate((element) => getComputedStyle(element).visibility)).toBe('visible');
    expect(plainText(await lessonOf().textContent())).toMatch(/You expected: It grows\..*about 8 mm/);
  });

  test('a held value is marked, and refused with words', async () => {
    const { page } = open;
    expect(await page.locator('.held').first().textContent()).toBe('held');
    await typeValue(page, 'Rock radius', '1200');
    await page
      .getByText(/The step holds it so that only one thing changes/)
      .first()
      .waitFor();
    await page.getByLabel('Rock radius', { exact: true }).press('Escape');
  });

  test('a trade word opens by keyboard with its drawing, and Escape leads back to it', async () => {
    const { page } = open;
    const word = page.getByRole('button', { name: 'Bar spread', exact: true });
    await word.focus();
    await word.press('Enter');
    const card = page.getByRole('dialog', { name: 'Spread' });
    await card.getByRole('img', { name: 'Drawing: Spread' }).waitFor();
    await page.keyboard.press('Escape');
    expect(await card.count()).toBe(0);
    expect(await word.evaluate((element) => element === document.activeElement)).toBe(true);
  });

  test('on a projector of 1920 nothing in head, reading, ruler and lesson is under 28 px, and the ruler is still touched where it is drawn', async () => {
    const { page } = open;
    await page.getByRole('button', { name: 'Projector' }).click();
    await page.waitForFunction(() => document.querySelector('[data-projector]') !== null);
    const least = await page.evaluate(smallestText, ['.head', '.bench-reading', '.lesson', '.ruler-drawing svg']);
    for (const px of least) expect(px).toBeGreaterThanOrEqual(28);
    expect(await page.locator('.ruler-drawing').textContent()).toMatch(/heights drawn [\d.]+ times as tall|true scale/);
    const ground = (await page.locator('.ruler .touch-ground').boundingBox())!;
    const marker = page.getByRole('slider', { name: /^Station marker/ });
    const value = async (name: string): Promise<number> => Number(await marker.getAttribute(`aria-value${name}`));
    await page.mouse.click(ground.x + 0.3 * ground.width, ground.y + 0.9 * ground.height);
    const [now, min, max] = [await value('now'), await value('min'), await value('max')];
    expect(Math.abs(now - (min + 0.3 * (max - min)))).toBeLessThanOrEqual(1);
    await page.getByRole('button', { name: 'Projector' }).click();
  });

  test('the handout holds every case on one axis and the cautions in full, on one page', async () => {
    const { page } = open;
    await lessonOf().getByRole('button', { name: 'Handout' }).click();
    const handout = page.getByRole('region', { name: 'Handout of the lesson' });
    await handout.locator('.handout-cases').waitFor({ timeout: 60_000 });
    expect(await handout.locator('.case-drawing').count()).toBe(6);
    const ribs = await handout
      .locator('.case-place:last-of-type')
      .evaluateAll((lines) => [...new Set(lines.map((line) => line.getAttribute('x1')))]);
    // Blade edge and last rib stand at the same two places in every case.
    expect(ribs).toHaveLength(2);
    expect(await handout.locator('.handout-cautions li').count()).toBe(10);
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
    expect(pdf.match(/\/Type\s*\/Page\b(?!s)/g)).toHaveLength(1);
    // Paper is light, whatever the page is.
    await expectFineInEveryLook(page, LOOKS.slice(0, 2));
    await page.setViewportSize({ width: 1920, height: 1080 });
    await page.keyboard.press('Escape');
    expect(await handout.count()).toBe(0);
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Handout');
  }, 90_000);

  test('a handout that is closed stops, and works when it is opened again', async () => {
    const { page } = open;
    await lessonOf().getByRole('button', { name: 'Handout' }).click();
    const handout = page.getByRole('region', { name: 'Handout of the lesson' });
    await handout.getByText(/^Working out the cases/).waitFor();
    await handout.getByRole('button', { name: 'Close' }).click();
    await lessonOf().getByRole('button', { name: 'Handout' }).click();
    await handout.locator('.handout-cases').waitFor({ timeout: 60_000 });
    await handout.getByRole('button', { name: 'Close' }).click();
  }, 90_000);

  test('is written from the bench, says what it lacks, and plays', async () => {
    const { page } = open;
    await lessonOf().getByRole('button', { name: 'Close' }).click();
    await page.getByLabel('Lesson', { exact: true }).selectOption('write');
    const writer = page.getByRole('region', { name: 'Write a lesson' });
    await writer.getByRole('button', { name: 'Take the bench as a step' }).click();
    await writer.getByLabel(/^Ask first/).fill('What bears?');
    await writer.getByRole('button', { name: 'Play' }).click();
    await writer.getByRole('alert').waitFor();
    await writer.getByLabel('Name of the lesson').fill('Mine');
    await writer.getByLabel('What it is about, one sentence').fill('One look.');
    await writer.getByLabel('Sentence: what is to be seen').fill('The ends bear.');
    await writer.getByRole('button', { name: 'Play' }).click();
    await page.getByRole('region', { name: 'Lesson: Mine' }).getByRole('button', { name: 'Show me' }).click();
    expect(plainText(await lessonOf().textContent())).toContain('The ends bear.');
  });

  test('what is being written outlives a reload, its steps can be taken back, and it reads well on a phone', async () => {
    const { page } = open;
    await page.getByLabel('Lesson', { exact: true }).selectOption('write');
    const writer = page.getByRole('region', { name: 'Write a lesson' });
    await writer.getByText('Kept in this browser as it stands.').waitFor();
    await page.getByText(/^Saved \d\d:\d\d, kept in this browser$/).waitFor();
    await page.goto(`${bench.url}?test&calm`);
    await readingDone(page);
    await page.getByLabel('Lesson', { exact: true }).selectOption('write');
    const sentence = writer.getByLabel('Sentence: what is to be seen');
    await expect.poll(() => sentence.inputValue(), { timeout: 10_000 }).toBe('The ends bear.');
    await writer.getByRole('button', { name: 'Take out' }).click();
    expect(await sentence.count()).toBe(0);
    await writer.getByRole('button', { name: /Undo in the lesson/ }).click();
    expect(await sentence.inputValue()).toBe('The ends bear.');
    await writer.getByRole('button', { name: 'Begin anew' }).click();
    expect(await writer.getByLabel('Name of the lesson').inputValue()).toBe('');
    await writer.getByRole('button', { name: /Undo in the lesson/ }).click();
    expect(await writer.getByLabel('Name of the lesson').inputValue()).toBe('Mine');
    await expectFineInEveryLook(page, TWO_LOOKS);
    await writer.getByRole('button', { name: 'Close' }).click();
    await expectFineInEveryLook(page, TWO_LOOKS);
    await page.setViewportSize({ width: 1440, height: 900 });
    expect(open.complaints).toEqual([]);
  });

  test('is chosen, answered, led to its end and put on paper by the keyboard alone', async () => {
    const { page } = open;
    await page.getByLabel('Lesson', { exact: true }).focus();
    await page.keyboard.type('What tips');
    await page.getByRole('region', { name: /^Lesson: What tips/ }).waitFor();
    await readingDone(page);
    for (let step = 1; ; step++) {
      if ((await lessonOf().locator('.lesson-ask').count()) > 0) {
        await tabTo(page, '.lesson-ask button');
        await page.keyboard.press('Enter');
      }
      await readingDone(page);
      if (await lessonOf().getByRole('button', { name: 'Next' }).isDisabled()) break;
      await tabTo(page, '.lesson-way button:nth-child(2)');
      await page.keyboard.press('Enter');
      await lessonOf()
        .getByText(new RegExp(`, ${step + 1} of \\d+:`))
        .waitFor();
    }
    await tabTo(page, '.lesson-way button:nth-child(3)');
    await page.keyboard.press('Enter');
    await page.getByRole('region', { name: 'Handout of the lesson' }).locator('h1').waitFor();
    await page.keyboard.press('Escape');
    await tabTo(page, '.lesson-way button:nth-child(4)');
    await page.keyboard.press('Enter');
    expect(await lessonOf().count()).toBe(0);
    expect(open.complaints).toEqual([]);
  }, 90_000);
});

/** The smallest letters under each of these, px on the screen. Runs in the page. */
function smallestText(roots: readonly string[]): number[] {
  return roots.map((root) => {
    const sizes: number[] = [];
    for (const element of document.querySelectorAll(`${root}, ${root} *`)) {
      const hasText = [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent?.trim() !== '');
      if (!hasText || element.getClientRects().length === 0 || element.closest('.visually-hidden') !== null) continue;
      const px = Number.parseFloat(getComputedStyle(element).fontSize);
      sizes.push(element instanceof SVGGraphicsElement ? px * (element.getScreenCTM()?.a ?? 1) : px);
    }
    return Math.min(...sizes);
  });
}
