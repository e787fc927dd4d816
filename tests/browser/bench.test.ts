import { readFile } from 'node:fs/promises';
import { fitDocuments, type PatternDocument, readBack, readPattern, SETUP_DEFAULTS } from '@barwright/geometry';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  angleFigure,
  areaFigure,
  figureText,
  gapFigure,
  lengthFigure,
  METRIC,
  pressureFigure,
  shareFigure,
} from '../../packages/viewer/src/look/format.ts';
import {
  type Bench,
  cardOf,
  figureOf,
  gapsAt,
  type OpenOptions,
  type OpenPage,
  plainText,
  readingDone,
  readingOf,
  rulerOf,
  startBench,
  typeValue,
} from './bench.fixture.ts';

let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
});
afterAll(() => bench?.close());

async function example(name: string): Promise<unknown> {
  return JSON.parse(await readFile(new URL(`../../examples/${name}`, import.meta.url), 'utf8'));
}

async function visit(query: string, options: OpenOptions, act: (open: OpenPage) => Promise<void>): Promise<void> {
  const open = await bench.open(query, { coarse: true, ...options });
  try {
    await act(open);
    expect(open.complaints).toEqual([]);
  } finally {
    await open.context.close();
  }
}

const firstSentence = (page: OpenPage['page']): Promise<string> =>
  readingOf(page).locator('.sentence').first().textContent().then(plainText);

describe('first sight', () => {
  test('picture, ruler, card and reading appear, and nothing is asked of the network', () =>
    visit('fresh&calm', { drawn: true, coarse: false }, async ({ page }) => {
      await expect(page.locator('canvas').count()).resolves.toBe(1);
      await expect(rulerOf(page).locator('path.line.bearing').count()).resolves.toBe(2);
      await expect(cardOf(page).getByLabel('Overall length', { exact: true }).inputValue()).resolves.toBe('560');
      await expect(readingOf(page).locator('.sentence').count()).resolves.toBeGreaterThan(0);
      const drawn = await page.evaluate(() => {
        const canvas = document.querySelector('canvas')!;
        const small = document.createElement('canvas');
        small.width = 64;
        small.height = 48;
        const pen = small.getContext('2d')!;
        pen.drawImage(canvas, 0, 0, 64, 48);
        const { data } = pen.getImageData(0, 0, 64, 48);
        const seen = new Set<number>();
        for (let i = 0; i < data.length; i += 4) seen.add((data[i]! << 16) | (data[i + 1]! << 8) | data[i + 2]!);
        return seen.size;
      });
      expect(drawn).toBeGreaterThan(50);
    }));
});

describe("a newcomer's minute", () => {
  test('Wren on Dumpling, made 630 long and R 1750: daylight opens on the ruler, and the sentence names rock before length', () =>
    visit('fresh&pattern=wren&back=dumpling', {}, async ({ page }) => {
      await rulerOf(page).getByRole('button', { name: 'Laid on' }).click();
      const before = await gapsAt(page, 285);
      expect(Math.max(Math.abs(before.left), Math.abs(before.right))).toBeLessThan(4);
      await typeValue(page, 'Overall length', '630');
      await typeValue(page, 'Rock radius', '1750');
      await readingDone(page);
      const after = await gapsAt(page, 285);
      expect(after.left).toBeGreaterThan(before.left + 5);
      expect(after.right).toBeGreaterThan(before.right + 5);
      await readingDone(page, true);
      const said = await firstSentence(page);
      expect(said).toMatch(/^Bridges/);
      expect(said.indexOf('rock')).toBeGreaterThan(0);
      expect(said.indexOf('mostly because')).toBeLessThan(said.indexOf('rock'));
      expect(said.indexOf('length adds')).toBeGreaterThan(said.indexOf('rock'));
    }));

  test('length alone at R 1150 is not called bridging, but bearing past the last rib', () =>
    visit('fresh&calm&pattern=wren&back=dumpling', {}, async ({ page }) => {
      await typeValue(page, 'Overall length', '630');
      await readingDone(page);
      const sentences = (await readingOf(page).locator('.sentence').allTextContents()).join('\n');
      expect(sentences).toMatch(/passes the last rib by \d+/);
      expect(sentences).not.toMatch(/^Bridges/m);
    }));

  test('touching a sentence marks its place on the ruler and brings the marker there', () =>
    visit('fresh&calm&pattern=wren-630-r1750&back=dumpling', {}, async ({ page }) => {
      await readingOf(page).locator('.sentence').first().click();
      await expect(rulerOf(page).locator('rect.mark').count()).resolves.toBe(1);
      const place = plainText(await readingOf(page).locator('li.selected .place').textContent());
      const [from, to] = /(-?\d+) mm to (-?\d+) mm/.exec(place)!.slice(1).map(Number) as [number, number];
      const marker = page.getByRole('slider', { name: /^Station marker/ });
      const at = Number(await marker.getAttribute('aria-valuenow'));
      expect(Math.abs(at - (from + to) / 2)).toBeLessThanOrEqual(1);
    }));
});

describe('edits', () => {
  test('undo and redo give every figure back exactly', () =>
    visit('fresh&pattern=wren&back=dumpling', {}, async ({ page }) => {
      const figures = async (): Promise<string> => plainText(await readingOf(page).textContent());
      await readingDone(page, true);
      const first = await figures();
      await typeValue(page, 'Slope, front', '39');
      await readingDone(page, true);
      const second = await figures();
      expect(second).not.toBe(first);
      await page.getByRole('button', { name: /Undo/ }).click();
      await readingDone(page, true);
      await expect(cardOf(page).getByLabel('Slope, front', { exact: true }).inputValue()).resolves.toBe('36');
      expect(await figures()).toBe(first);
      await page.getByRole('button', { name: /Redo/ }).click();
      await readingDone(page, true);
      expect(await figures()).toBe(second);
    }));

  test('a reload keeps documents and units', () =>
    visit('fresh&calm&pattern=wren&back=heron', {}, async ({ page }) => {
      await typeValue(page, 'Overall length', '22 1/4');
      await page.getByRole('button', { name: /in, psi, lb/ }).click();
      await page.locator('.bench-saved', { hasText: 'kept in this browser' }).waitFor();
      await page.waitForTimeout(800);
      await page.goto(`${bench.url}?test&calm`);
      await readingDone(page);
      await expect(cardOf(page).getByLabel('Overall length', { exact: true }).inputValue()).resolves.toBe('22 1/4');
      await expect(page.getByLabel('Pattern name').inputValue()).resolves.toBe('Wren');
    }));

  test('units change figures, not geometry; what cannot be read is refused in place, in words, and changes nothing', () =>
    visit('fresh&pattern=wren&back=dumpling', {}, async ({ page }) => {
      await readingDone(page, true);
      const length = cardOf(page).getByLabel('Overall length', { exact: true });
      const places = (): Promise<(string | null)[]> =>
        page.getByRole('slider').evaluateAll((all) => all.map((one) => one.getAttribute('aria-valuenow')));
      const paths = (): Promise<(string | null)[]> =>
        rulerOf(page)
          .locator('path.line.bearing')
          .evaluateAll((all) => all.map((one) => one.getAttribute('d')));
      const metric = { text: await readingOf(page).textContent(), places: await places(), paths: await paths() };
      await page.getByRole('button', { name: /in, psi, lb/ }).click();
      await expect(length.inputValue()).resolves.toBe('19 11/16');
      expect(await figureOf(page, 'Mean')).toMatch(/psi/);
      expect(await places()).toEqual(metric.places);
      expect(await paths()).toEqual(metric.paths);
      await length.focus();
      await expect(length.inputValue()).resolves.toBe('500 mm');
      await length.press('Enter');
      await page.getByRole('button', { name: /mm, kPa, kg/ }).click();
      expect(await readingOf(page).textContent()).toBe(metric.text);

      const slope = cardOf(page).getByLabel('Slope, front', { exact: true });
      await slope.fill('36 kPa');
      await slope.press('Enter');
      await expect(slope.getAttribute('aria-invalid')).resolves.toBe('true');
      await expect(cardOf(page).getByRole('alert').textContent()).resolves.toMatch(/^Expected an? .+\. .+/);
      await slope.press('Escape');
      await expect(slope.getAttribute('aria-invalid')).resolves.toBe('false');
      await typeValue(page, 'Overall length', '22-1/4');
      await expect(cardOf(page).getByRole('alert').textContent()).resolves.toMatch(/22/);
      await length.press('Escape');
      await expect(length.inputValue()).resolves.toBe('500');
      expect(await readingOf(page).textContent()).toBe(metric.text);
    }));

  test('an expression stays written and shows its result', () =>
    visit('fresh&calm&pattern=wren&back=dumpling', {}, async ({ page }) => {
      await typeValue(page, 'Overall length', 'seatLength + 6.5 in');
      await readingDone(page);
      const length = cardOf(page).getByLabel('Overall length', { exact: true });
      await expect(length.inputValue()).resolves.toBe('seatLength + 6.5 in');
      const beside = cardOf(page)
        .locator('.typed-field', { has: page.getByLabel('Overall length', { exact: true }) })
        .locator('.result');
      expect(plainText(await beside.textContent())).toBe(`= ${(13.25 * 25.4 + 6.5 * 25.4).toFixed(1)} mm`);
    }));

  test('dragging the set position along the ruler is one step of undo', () =>
    visit('fresh&calm&pattern=wren&back=dumpling', {}, async ({ page }) => {
      const handle = page.getByRole('slider', { name: /^Set position/ });
      const knob = (await handle.locator('circle.knob').boundingBox())!;
      const [x, y] = [knob.x + knob.width / 2, knob.y + knob.height / 2];
      await page.mouse.move(x, y);
      await page.mouse.down();
      for (let i = 1; i <= 12; i++) await page.mouse.move(x + 3 * i, y);
      await page.mouse.up();
      const moved = Number(await handle.getAttribute('aria-valuenow'));
      expect(moved).toBeGreaterThan(-20);
      await readingDone(page);
      await page.getByRole('button', { name: /Undo/ }).click();
      await expect(handle.getAttribute('aria-valuenow')).resolves.toBe('-30');
      await page.getByRole('button', { name: /Redo/ }).click();
      await expect(handle.getAttribute('aria-valuenow')).resolves.toBe(String(moved));
    }));
});

describe('dragging on the card', () => {
  test('a value follows the mark on its range line in whole steps, as one step of undo', () =>
    visit('fresh&calm&pattern=wren&back=dumpling', {}, async ({ page }) => {
      const slope = cardOf(page).getByLabel('Slope, rear', { exact: true });
      const line = cardOf(page).locator('.typed-field', { has: page.getByLabel('Slope, rear', { exact: true }) });
      const mark = (await line.locator('.range-place').boundingBox())!;
      const [x, y] = [mark.x + mark.width / 2, mark.y + mark.height / 2];
      await page.mouse.move(x, y);
      await page.mouse.down();
      for (let i = 1; i <= 6; i++) await page.mouse.move(x + 4 * i, y);
      await page.mouse.up();
      await expect(slope.inputValue()).resolves.toBe('24');
      await readingDone(page);
      await page.getByRole('button', { name: /Undo/ }).click();
      await expect(slope.inputValue()).resolves.toBe('21');
      await page.getByRole('button', { name: /Redo/ }).click();
      await expect(slope.inputValue()).resolves.toBe('24');
    }));

  test('a value of the left bar alone is marked as its own, and the right bar keeps its own', () =>
    visit('fresh&calm&pattern=wren&back=dumpling', {}, async ({ page }) => {
      await cardOf(page).getByRole('button', { name: 'Left bar' }).click();
      await typeValue(page, 'Slope, rear', '24');
      await expect(cardOf(page).locator('.own').count()).resolves.toBe(1);
      const included = cardOf(page).locator('tr.computed td').last();
      expect(plainText(await included.textContent())).toBe('135.0°');
      await cardOf(page).getByRole('button', { name: 'Both bars' }).click();
      await expect(cardOf(page).getByLabel('Slope, rear', { exact: true }).inputValue()).resolves.toBe('21');
    }));
});

describe('the same numbers', () => {
  test.each([
    ['wren', 'dumpling'],
    ['rail', 'heron'],
  ])('%s on %s: the page shows what fitDocuments gives for the same documents', async (patternName, backName) => {
    const pattern = readPattern(await example(`${patternName}.pattern.json`)) as PatternDocument;
    const back = readBack(await example(`${backName}.back.json`));
    const { result } = fitDocuments({ pattern, back, setup: SETUP_DEFAULTS }, { detail: 'full' });
    const { contact, pose, mismatch } = result;
    const text = (figure: Parameters<typeof figureText>[0]): string => plainText(figureText(figure));
    await visit(`fresh&pattern=${patternName}&back=${backName}`, { coarse: false }, async ({ page }) => {
      await readingDone(page, true);
      expect(await figureOf(page, 'Contact area')).toContain(text(areaFigure(contact.areaCm2, METRIC)));
      expect(await figureOf(page, 'Mean')).toBe(text(pressureFigure(contact.meanPressureKPa, METRIC)));
      expect(await figureOf(page, '95th percentile')).toBe(text(pressureFigure(contact.p95PressureKPa, METRIC)));
      expect(await figureOf(page, 'Peak')).toContain(text(pressureFigure(contact.peakPressureKPa, METRIC)));
      expect(await figureOf(page, 'Load front / middle / rear')).toBe(
        [contact.shareFront, contact.shareMiddle, contact.shareRear].map((s) => text(shareFigure(s))).join(' / '),
      );
      expect(await figureOf(page, 'Height')).toBe(text(lengthFigure(pose.heightMm, METRIC)));
      expect(await figureOf(page, 'Pitch')).toContain(text(angleFigure(pose.pitchDeg, true)));
      expect(await figureOf(page, 'Lengthwise mismatch')).toBe(
        `left ${text(gapFigure(mismatch.lengthwiseLeftMm, METRIC, { signed: true }))}, ` +
          `right ${text(gapFigure(mismatch.lengthwiseRightMm, METRIC, { signed: true }))}`,
      );
      const sentences = await readingOf(page).locator('.sentence').allTextContents();
      expect(sentences).toEqual(result.findings.map((finding) => finding.sentence));
      const solved = result.capacity!.solved[1]!;
      expect(await figureOf(page, `Solved, load at ${solved.loadAtPercent} %`)).toContain(
        `${solved.firstN!.toFixed(0)} N`,
      );
    });
  });

  test('no verdicts; capacity is never without its caution, and all ten cautions open in full', () =>
    visit('fresh&pattern=post&back=tuesday', {}, async ({ page }) => {
      await readingDone(page, true);
      const words = plainText(await page.locator('body').textContent());
      expect(words.length).toBeGreaterThan(2000);
      expect(words).not.toMatch(
        /\b(ok|okay|safe|unsafe|fail(s|ed)?|passed|green|amber|certified|pain-free|allowed)\b/i,
      );
      await expect(page.locator('.capacity .caution').textContent()).resolves.toContain(
        'not permission for a rider of that weight',
      );
      await page.locator('details.cautions > summary').click();
      const cautions = await page.locator('details.cautions li').allTextContents();
      expect(cautions).toHaveLength(10);
      expect(cautions.join(' ')).toMatch(/veterinarian first/);
    }));
});

describe('missing data', () => {
  test('a back measured from 100 to 400 only: what lies beyond is hatched, left out, printed and said', async () => {
    const whole = (await example('dumpling.back.json')) as Record<string, unknown[]>;
    const kept = [2, 3, 4, 5];
    const pick = (key: string): unknown[] => kept.map((i) => whole[key]![i]);
    const part = {
      ...whole,
      stationsMm: pick('stationsMm'),
      bearingHeightMm: pick('bearingHeightMm'),
      slopeDeg: pick('slopeDeg'),
    };
    await visit('fresh&calm&pattern=wren-630-r1150&back=heron', {}, async ({ page }) => {
      await page.getByLabel('Files to open').setInputFiles({
        name: 'part.back.json',
        mimeType: 'application/json',
        buffer: Buffer.from(JSON.stringify(part)),
      });
      await page.waitForFunction(() => document.querySelectorAll('.ruler rect.no-data').length > 0, null, {
        timeout: 20_000,
      });
      await readingDone(page);
      const hatched = await rulerOf(page).locator('rect.no-data').count();
      expect(hatched).toBe(4);
      expect(Number.parseFloat(await figureOf(page, 'Left out for want of data'))).toBeGreaterThan(30);
      const said = plainText(await readingOf(page).textContent());
      expect(said).toMatch(/press where the back was not measured/);
      await page.screenshot({ path: `${process.env.BENCH_SHOTS ?? 'node_modules/.cache'}/bench-missing-data.png` });
    });
  });
});

describe('station cut', () => {
  test('opens, follows the stations, and says slopes and clearance of both sides', () =>
    visit('fresh&calm&pattern=wren&back=dumpling', {}, async ({ page }) => {
      await page.getByRole('button', { name: 'Open cut' }).click();
      const cut = page.getByRole('region', { name: 'Station cut' });
      await cut.locator('svg path.back-line').waitFor();
      await cut.getByRole('button', { name: 'Next station' }).click();
      await expect(cut.getByRole('heading').textContent().then(plainText)).resolves.toMatch(/waist, 220 mm/);
      await page.waitForFunction(() => document.querySelectorAll('.cut-figures tbody tr').length === 6);
      const cells = (await cut.locator('tbody td').allTextContents()).map(plainText);
      expect(cells).toHaveLength(12);
      for (const slope of cells.slice(0, 4)) expect(slope).toMatch(/^\d+\.\d°$/);
      for (const mismatch of cells.slice(4, 6))
        expect(mismatch).toMatch(/^[+-]\d+\.\d° (steeper|flatter) than the back$/);
      for (const gap of cells.slice(6)) expect(gap).toMatch(/^(clear|squeeze) \d+\.\d mm$/);
    }));
});
