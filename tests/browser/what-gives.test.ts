import { readFile } from 'node:fs/promises';
import {
  buildBack,
  buildTree,
  type Fit,
  fitDocuments,
  type GiveFigures,
  readBack,
  readGive,
  readPattern,
  resolvePattern,
  rideStride,
  type Setup,
  setPatternValue,
  strideOf,
  studyGive,
  zoneLoads,
} from '@barwright/geometry';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  areaFigure,
  decimalFigure,
  type FigureParts,
  figureText,
  forceFigure,
  gapFigure,
  METRIC,
  pressureFigure,
} from '../../packages/viewer/src/look/format.ts';
import { expectFineInEveryLook } from './axe.fixture.ts';
import {
  type Bench,
  COARSE_SETUP,
  cardOf,
  figureOf,
  type OpenOptions,
  plainText,
  readingDone,
  readingOf,
  startBench,
  typeValue,
} from './bench.fixture.ts';

const ON = 'fresh&pattern=post&back=tuesday';
/** Some thirty seatings with bending bars, on a machine that may be busy. */
const PATIENCE = { timeout: 110_000 };

let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
});
afterAll(() => bench?.close());

async function example(name: string): Promise<unknown> {
  return JSON.parse(await readFile(new URL(`../../examples/${name}`, import.meta.url), 'utf8'));
}

const documents = Promise.all([example('post.pattern.json'), example('tuesday.back.json')]).then(([pattern, back]) => ({
  pattern: readPattern(pattern),
  back: readBack(back),
  standing: buildBack(readBack(back)),
}));
const FLEXIBLE: Setup = { ...COARSE_SETUP, flex: { ...COARSE_SETUP.flex, bars: 'flexible' } };

const fits = new Map<Setup, Promise<Fit>>();

/** The fit of the documents on the bench under a setup, worked out once. */
function fitOf(setup: Setup): Promise<Fit> {
  const fit =
    fits.get(setup) ??
    documents.then(({ pattern, back }) => fitDocuments({ pattern, back, setup }, { detail: 'figures' }));
  fits.set(setup, fit);
  return fit;
}

async function visit(options: OpenOptions, act: (page: Page) => Promise<void>): Promise<void> {
  const open = await bench.open(`calm&${ON}`, { ...options, coarse: true });
  try {
    await act(open.page);
    expect(open.complaints).toEqual([]);
  } finally {
    await open.context.close();
  }
}

const text = (figure: FigureParts): string => plainText(figureText(figure));
const newtons = (n: number): string => text(forceFigure(n, METRIC));
const millimetres = (mm: number | null, decimals = 1): string => text(gapFigure(mm, METRIC, { decimals }));
const signedMm = (mm: number): string => text(gapFigure(mm, METRIC, { signed: true, decimals: 2 }));
const kPa = (value: number): string => text(pressureFigure(value, METRIC));
const percent = (value: number): string => text(decimalFigure(value, '%', 2));

const setupCard = (page: Page) => page.getByRole('region', { name: 'Setup', exact: true });
const study = (page: Page) => page.getByRole('region', { name: 'What gives', exact: true });

async function openSetup(page: Page): Promise<void> {
  await page.getByRole('button', { name: /^Setup:/ }).click();
  await setupCard(page).waitFor();
}

async function setBars(page: Page, kind: 'Rigid' | 'Flexible'): Promise<void> {
  await setupCard(page).getByRole('button', { name: kind, exact: true }).click();
  await settled(page);
}

/** The change has reached the worker and its figures are back. */
async function settled(page: Page): Promise<void> {
  await page.waitForTimeout(50);
  await readingDone(page);
}

async function openStudy(page: Page): Promise<void> {
  await page.getByRole('navigation', { name: 'Studies' }).getByRole('button', { name: 'What gives' }).click();
}

async function studyDone(page: Page): Promise<void> {
  await page.waitForFunction(
    () => document.querySelector('.give-result')?.getAttribute('aria-busy') === 'false',
    null,
    PATIENCE,
  );
}

/** Tips of a fit as the reading says them. */
function tipsSaid({ seated }: Fit): string {
  const loads = zoneLoads(seated);
  return [loads[0]!, loads[4]!].map(({ loadN }) => newtons(loadN)).join(' / ');
}

const everyFigure = async (page: Page): Promise<string[]> =>
  (await readingOf(page).locator('.line').allTextContents()).map(plainText);

describe('on the card', () => {
  test('flexible by keyboard: tips carry what the geometry says; undone, every figure is the rigid one again', () =>
    visit({}, async (page) => {
      const [rigid, flexible] = [await fitOf(COARSE_SETUP), await fitOf(FLEXIBLE)];
      expect(await figureOf(page, 'Tips carry, front / rear')).toBe(tipsSaid(rigid));
      const before = await everyFigure(page);
      await openSetup(page);
      const button = setupCard(page).getByRole('button', { name: 'Flexible', exact: true });
      await button.focus();
      await page.keyboard.press('Enter');
      await settled(page);
      expect(await button.getAttribute('aria-pressed')).toBe('true');
      expect(tipsSaid(flexible)).not.toBe(tipsSaid(rigid));
      expect(await figureOf(page, 'Tips carry, front / rear')).toBe(tipsSaid(flexible));
      const [left, right] = flexible.result.flex!.bars;
      expect(await figureOf(page, 'Front tips move, left / right')).toBe(
        [left, right].map(({ tips }) => signedMm(tips[0].moveMm)).join(' / '),
      );
      expect(await figureOf(page, 'Strain, rear roots')).toBe(
        [left, right].map(({ tips }) => percent(tips[1].rootStrainPercent)).join(' / '),
      );
      expect(await figureOf(page, 'Mean')).toBe(kPa(flexible.result.contact.meanPressureKPa));
      await page.getByRole('button', { name: /Undo/ }).click();
      await settled(page);
      expect(await everyFigure(page)).toEqual(before);
    }));

  test('ground seat, warmth, hours, a layer of foam, a material and a shim each reach the result, and undo takes them back one by one', () =>
    visit({}, async (page) => {
      await openSetup(page);
      await setBars(page, 'Flexible');
      const card = setupCard(page);
      const undoTo: string[][] = [];
      const change = async (act: () => Promise<unknown>): Promise<void> => {
        undoTo.push(await everyFigure(page));
        await act();
        await settled(page);
      };
      await change(() => typeValue(page, 'Air temperature', '5'));
      await change(() => typeValue(page, 'On the horse', '60'));
      await change(() => typeValue(page, 'Under load', '100'));
      await change(() => card.getByLabel('pad, gives by').selectOption('closed-cell foam'));
      await change(() => card.getByLabel('Ground seat', { exact: true }).selectOption('moulded'));
      await card.locator('summary', { hasText: 'Assumed for it' }).click();
      await change(() => typeValue(page, 'low density polyethylene, stiffness along', '300'));
      await card.locator('summary', { hasText: 'Shims' }).click();
      await change(() => card.getByRole('button', { name: 'Add a shim' }).click());
      await change(() => typeValue(page, 'shim, thickness', '1/4 in'));
      const own: Setup = {
        ...FLEXIBLE,
        layers: [FLEXIBLE.layers[0]!, { name: 'pad', thicknessMm: 20, material: 'closed-cell foam' }],
        flex: { ...FLEXIBLE.flex, groundSeat: 'moulded', hours: 100 },
        warmth: { ...FLEXIBLE.warmth, ambientC: 5, minutes: 60 },
        materials: { 'low density polyethylene': { alongMPa: 300 } },
        shims: [
          {
            ...{ name: 'shim', fixedTo: 'bar', side: 'both', thicknessMm: 6.35, rampMm: 20 },
            ...{ fromMm: 210, toMm: 350, innerMm: 60, outerMm: 140 },
          },
        ],
      };
      const fit = await fitOf(own);
      const saidByBench = {
        tips: await figureOf(page, 'Tips carry, front / rear'),
        moves: await figureOf(page, 'Front tips move, left / right'),
        mean: await figureOf(page, 'Mean'),
        at: await figureOf(page, 'Bars at'),
      };
      const { flex, contact } = fit.result;
      expect(saidByBench).toEqual({
        tips: tipsSaid(fit),
        moves: flex!.bars.map(({ tips }) => signedMm(tips[0].moveMm)).join(' / '),
        mean: kPa(contact.meanPressureKPa),
        at: `${flex!.temperatureC.toFixed(0)} °C, 100 h`,
      });
      for (const figures of undoTo.reverse()) {
        await page.getByRole('button', { name: /Undo/ }).click();
        await settled(page);
        expect(await everyFigure(page)).toEqual(figures);
      }
    }));

  test('tips by thickness, length and material of the pattern', () =>
    visit({}, async (page) => {
      await openSetup(page);
      await setBars(page, 'Flexible');
      await page.getByRole('button', { name: 'Spec card', exact: true }).click();
      for (const group of [/tips and relief/i, /^Materials$/])
        await cardOf(page).locator('summary', { hasText: group }).click();
      await cardOf(page).getByLabel('Tips', { exact: true }).selectOption('wood');
      await settled(page);
      await typeValue(page, 'Tip thickness', '6');
      await settled(page);
      const { pattern, back } = await documents;
      const changed = setPatternValue(setPatternValue(pattern, 'materials.tip', 'wood'), 'tipThickness', 6);
      const fit = fitDocuments({ pattern: changed, back, setup: FLEXIBLE }, { detail: 'figures' });
      expect(await figureOf(page, 'Tips carry, front / rear')).toBe(tipsSaid(fit));
      expect(await figureOf(page, 'Rear tips move, left / right')).toBe(
        fit.result.flex!.bars.map(({ tips }) => signedMm(tips[1].moveMm)).join(' / '),
      );
    }));
});

describe('in the picture', () => {
  test('give and thickness have their legends; bending is exaggerated only where it is said', () =>
    visit({ drawn: true }, async (page) => {
      const controls = page.getByRole('group', { name: 'Colour of the undersides' });
      await controls.getByRole('button', { name: 'Give' }).click();
      expect(plainText(await page.locator('.scale-bar').textContent())).toContain('rigid: nothing gives');
      await expect(page.getByLabel('Bending').count()).resolves.toBe(0);
      await openSetup(page);
      await setBars(page, 'Flexible');
      expect(plainText(await page.locator('.scale-bar').textContent())).toContain('towards the horse 2 mm');
      await expect(page.locator('.scene-bent').count()).resolves.toBe(0);
      await page.getByLabel('Bending').selectOption('5');
      expect(plainText(await page.locator('.scene-bent').textContent())).toBe('bending × 5');
      await controls.getByRole('button', { name: 'Thickness' }).click();
      expect(plainText(await page.locator('.scale-bar').textContent())).toContain('bar thickness 0 mm');
      await page
        .getByRole('group', { name: /rests in the picture/ })
        .getByRole('button', { name: 'Laid on' })
        .click();
      await expect(page.locator('.scene-bent').count()).resolves.toBe(0);
    }));
});

describe('the study', () => {
  /** Cells of a row of figures, without the small differences under them. */
  const cellsOf = (page: Page, section: string, row: number): Promise<string[]> =>
    page
      .locator(`.${section} tbody tr`)
      .nth(row)
      .locator('td')
      .evaluateAll((cells) => cells.map((cell) => cell.firstChild?.textContent ?? ''))
      .then((texts) => texts.map(plainText));

  const tipsN = ({ zones }: GiveFigures): number => zones[0]!.loadN + zones[4]!.loadN;
  const someOf = (figures: GiveFigures): Record<number, string> => ({
    0: newtons(tipsN(figures)),
    4: millimetres(figures.middleGapMm),
    6: text(areaFigure(figures.areaCm2, METRIC)),
    9: kPa(figures.peakKPa),
  });

  test('rows fill in, each the geometry’s own, and the words say the same; an own shift of the cover; axe finds nothing serious', () =>
    visit({}, async (page) => {
      await openSetup(page);
      await expectFineInEveryLook(page);
      await page.getByRole('button', { name: /^Setup:/ }).click();
      const { pattern, standing } = await documents;
      const tree = buildTree(resolvePattern(pattern));
      // A row may be filled faster than anyone can look: whether one waited is seen from inside the page.
      await page.evaluate(() => {
        const seen = new MutationObserver(() => {
          if (document.querySelector('.give-parts tr.waiting') === null) return;
          seen.disconnect();
          document.body.dataset.sawWaiting = 'yes';
        });
        seen.observe(document.body, { childList: true, subtree: true });
      });
      await openStudy(page);
      await expect.poll(() => page.locator('.give-sentences li').count(), PATIENCE).toBe(3);
      await studyDone(page);
      expect(await page.evaluate(() => document.body.dataset.sawWaiting)).toBe('yes');
      await expect(page.locator('.give-parts tr.waiting').count()).resolves.toBe(0);
      const whole = [...studyGive(tree, standing, COARSE_SETUP)].at(-1)!;
      const sentences = (await page.locator('.give-sentences li').allTextContents()).map(plainText);
      expect(sentences).toEqual(whole.reading.map(plainText));
      expect(sentences).toHaveLength(3);
      for (const [i, { figures }] of whole.parts.entries()) {
        const cells = await cellsOf(page, 'give-parts', i);
        for (const [at, figure] of Object.entries(someOf(figures))) expect(cells[Number(at)]).toBe(figure);
      }
      const zones = (await page.locator('.give-zones tbody tr').allTextContents()).map(plainText);
      expect(zones[0]).toContain(newtons(whole.rigid!.zones[0]!.loadN));
      expect(zones[0]).toContain(newtons(whole.flexible!.zones[0]!.loadN));
      const warm = plainText(await page.locator('.give-warm').textContent());
      for (const row of [whole.warmUp.minutes.at(-1)!, whole.warmUp.hours.at(-1)!])
        expect(warm).toContain(`the tips carry ${newtons(tipsN(row.figures))}`);
      const shape = (await page.locator('.give-shape tbody tr').allTextContents()).map(plainText);
      const front = whole.loadedShape!.stations[0]!;
      expect(shape[0]).toContain(text(decimalFigure(front.angleLoadedDeg, '°', 2)));
      const ride = (await page.locator('.give-ride tbody tr').allTextContents()).map(plainText);
      expect(ride).toHaveLength(whole.rideGive.length);
      expect(ride[1]).toContain(millimetres(whole.rideGive[1]!.seatTravelMm));
      expect(plainText(await study(page).textContent())).toContain(plainText(whole.assumptions[1]!));
      await expectFineInEveryLook(page);

      // A number out of range is not asked; a shift of nothing is the flexible bars themselves.
      const cover = page.getByRole('region', { name: /cover draws in/ });
      await cover.getByRole('textbox', { name: 'Angle' }).fill('-40');
      await expect(cover.getByRole('button').isDisabled()).resolves.toBe(true);
      await cover.getByRole('textbox', { name: 'Angle' }).fill('0');
      await cover.getByRole('textbox', { name: 'Spread' }).fill('0');
      await cover.getByRole('button').click();
      await cover.locator('tbody tr').nth(3).waitFor(PATIENCE);
      const same = someOf(readGive(tree, standing, FLEXIBLE));
      const cells = await cellsOf(page, 'give-cover', 3);
      for (const [at, figure] of Object.entries(same)) expect(cells[Number(at)]).toBe(figure);
    }));

  test('stopped on its way it says so and goes on; the bench is switched from here and undone', () =>
    visit({}, async (page) => {
      await openStudy(page);
      await study(page).getByRole('button', { name: 'Stop' }).click();
      await study(page).getByText('Stopped.').waitFor();
      await study(page).getByRole('button', { name: 'Go on' }).click();
      await study(page).getByRole('button', { name: 'Make them flexible' }).click();
      await settled(page);
      expect(await figureOf(page, 'Tips carry, front / rear')).toBe(tipsSaid(await fitOf(FLEXIBLE)));
      await page.getByRole('button', { name: /Undo/ }).click();
      await settled(page);
      expect(await figureOf(page, 'Tips carry, front / rear')).toBe(tipsSaid(await fitOf(COARSE_SETUP)));
      await studyDone(page);
    }));

  test('the stride of flexible bars is drawn beside that of rigid ones', () =>
    visit({}, async (page) => {
      await page.getByRole('button', { name: 'Shoulder', exact: true }).click();
      await page.getByLabel('Set rigid bars beside flexible ones').check();
      await page.locator('.creep p').waitFor(PATIENCE);
      const { pattern, standing } = await documents;
      const run = rideStride(buildTree(resolvePattern(pattern)), standing, FLEXIBLE, strideOf(standing));
      const words = plainText(await page.locator('.creep p').textContent());
      for (const { side, leastGapMm, highestPressureKPa } of run.tips) {
        expect(words).toContain(`${side}: least clearance ${millimetres(leastGapMm)}`);
        expect(words).toContain(`most under the tip ${kPa(highestPressureKPa)}`);
      }
      await expect(page.locator('.stride-curves path.bars').count()).resolves.toBe(4);

      // Warm beside cold, on bars that bend: foam and bars are softer.
      await page.getByLabel('Set rigid bars beside flexible ones').uncheck();
      await openSetup(page);
      await setBars(page, 'Flexible');
      await page.getByLabel('Set it after 90 minutes on the horse beside just laid on').check();
      await page.locator('.creep p').waitFor(PATIENCE);
      const warm = { ...FLEXIBLE, warmth: { ...FLEXIBLE.warmth, minutes: 90 } };
      const warmed = rideStride(buildTree(resolvePattern(pattern)), standing, warm, strideOf(standing));
      const said = plainText(await page.locator('.creep p').textContent());
      expect(said).toContain('warm: ');
      for (const [i, { side, leastGapMm, highestPressureKPa }] of warmed.tips.entries()) {
        expect(said).toContain(`${side}: least clearance ${millimetres(leastGapMm)}`);
        expect(said).toContain(`most under the tip ${kPa(highestPressureKPa)}`);
        expect(Math.abs(highestPressureKPa - run.tips[i]!.highestPressureKPa)).toBeGreaterThan(0.01);
      }
      await expect(page.locator('.stride-curves path.warmth').count()).resolves.toBe(4);
    }));
});
