import { readFile } from 'node:fs/promises';
import {
  bladesAt,
  buildBack,
  buildTree,
  createCaseBacks,
  type FitResult,
  RIDING_SETS,
  type RidingCase,
  readBack,
  readPattern,
  readRiding,
  resolvePattern,
  rideCase,
  rideStride,
  ridingCaseSchema,
  solveTip,
  strideOf,
  tipEdgeGapMm,
} from '@barwright/geometry';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  angleFigure,
  areaFigure,
  figureText,
  forceFigure,
  gapFigure,
  lengthFigure,
  METRIC,
  pressureFigure,
  SHOP,
  shareFigure,
} from '../../packages/viewer/src/look/format.ts';
import { expectFineInEveryLook } from './axe.fixture.ts';
import {
  type Bench,
  COARSE_SETUP,
  cardOf,
  type OpenOptions,
  type OpenPage,
  plainText,
  readingDone,
  startBench,
  typeValue,
} from './bench.fixture.ts';

const ON = 'fresh&pattern=post&back=tuesday';
/** The machine may be busy: a stride in full takes a second or two alone. */
const PATIENCE = { timeout: 90_000 };

let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
});
afterAll(() => bench?.close());

async function example(name: string): Promise<unknown> {
  return JSON.parse(await readFile(new URL(`../../examples/${name}`, import.meta.url), 'utf8'));
}

const built = Promise.all([example('post.pattern.json'), example('tuesday.back.json')]).then(([pattern, back]) => {
  const standing = buildBack(readBack(back));
  return { tree: buildTree(resolvePattern(readPattern(pattern))), standing, stride: strideOf(standing) };
});

async function visit(options: OpenOptions, act: (page: Page) => Promise<void>): Promise<void> {
  const open: OpenPage = await bench.open(`calm&${ON}`, { ...options, coarse: true });
  try {
    await act(open.page);
    expect(open.complaints).toEqual([]);
  } finally {
    await open.context.close();
  }
}

const study = (page: Page, name: 'Shoulder' | 'Riding') => page.getByRole('region', { name, exact: true });

async function openStudy(page: Page, name: 'Shoulder' | 'Riding'): Promise<void> {
  await page.getByRole('navigation', { name: 'Studies' }).getByRole('button', { name, exact: true }).click();
  await (name === 'Shoulder' ? strideDone(page) : casesDone(page));
}

/** The stride in full, of the values on the bench. */
async function strideDone(page: Page): Promise<void> {
  await page.waitForFunction(
    () => {
      const results = document.querySelector('.shoulder-results');
      return (
        results !== null &&
        results.getAttribute('aria-busy') === 'false' &&
        document.querySelector('.study-running') === null &&
        !results.textContent?.includes('first look')
      );
    },
    null,
    PATIENCE,
  );
}

async function casesDone(page: Page): Promise<void> {
  await page.waitForFunction(
    () => {
      const rows = [...document.querySelectorAll('.riding .study-table tbody tr')];
      return (
        rows.length > 0 &&
        rows.every((row) => row.getAttribute('aria-busy') === 'false' && !row.textContent?.includes('waiting…')) &&
        document.querySelector('.study-running') === null
      );
    },
    null,
    PATIENCE,
  );
}

const said = async (page: Page, selector: string): Promise<string> =>
  plainText(await page.locator(selector).textContent());
const phaseOf = async (page: Page): Promise<number> =>
  Number(await page.getByRole('slider', { name: 'Phase of the stride' }).inputValue());
const mm = (value: number): string => plainText(figureText(lengthFigure(value, METRIC, { decimals: 0 })));
const gap = (value: number | null): string => plainText(figureText(gapFigure(value, METRIC)));
const kPa = (value: number): string => plainText(figureText(pressureFigure(value, METRIC)));

describe('the shoulder', () => {
  test('words of the stride, and of one 25 mm further forward, are those of the geometry; nothing plays by itself; axe finds nothing serious', () =>
    visit({}, async (page) => {
      await openStudy(page, 'Shoulder');
      const { tree, standing, stride } = await built;
      const run = rideStride(tree, standing, COARSE_SETUP, stride);
      const worst = run.tips[0].leastGapMm! <= run.tips[1].leastGapMm! ? run.tips[0] : run.tips[1];
      const words = await said(page, '.shoulder-said');
      expect(words).toContain(
        `Least clearance: ${gap(worst.leastGapMm)} at the ${worst.side} tip edge, phase ${Math.round(run.worstPhase * 36) + 1} of 36`,
      );
      expect(words).toContain(
        `left ${kPa(run.tips[0].highestPressureKPa)}, right ${kPa(run.tips[1].highestPressureKPa)}`,
      );
      const load = plainText(figureText(forceFigure(run.phases[0]!.appliedN, METRIC)));
      expect(words).toContain(`carried ${load}, applied ${load}`);
      await expect(page.locator('.stride-curves .mark text').count()).resolves.toBe(2);

      // Where little motion is asked for nothing plays, and steps remain.
      await expect(page.getByRole('button', { name: 'Play' }).isDisabled()).resolves.toBe(true);
      expect(await phaseOf(page)).toBe(0);
      await page.getByRole('button', { name: 'Step', exact: true }).click();
      expect(await phaseOf(page)).toBe(1);

      await page.getByRole('checkbox', { name: /What if it creeps/ }).check();
      await page.waitForSelector('.creep p', PATIENCE);
      const setup = { ...COARSE_SETUP, setPositionMm: COARSE_SETUP.setPositionMm - 25 };
      const crept = rideStride(tree, standing, setup, stride);
      const beside = await said(page, '.creep p');
      for (const { side, leastGapMm, highestPressureKPa } of crept.tips) {
        expect(beside).toContain(`${side}: least clearance ${gap(leastGapMm)}`);
        expect(beside).toContain(`most under the tip ${kPa(highestPressureKPa)}`);
      }
      await expect(page.locator('.stride-curves path.crept').count()).resolves.toBe(4);
      await expectFineInEveryLook(page);
    }));

  test('keys alone: arrows step, the words follow the blades, space plays and pauses', () =>
    visit({}, async (page) => {
      await page.emulateMedia({ reducedMotion: 'no-preference' });
      await page.getByRole('button', { name: 'Shoulder', exact: true }).focus();
      await page.keyboard.press('Enter');
      await strideDone(page);
      const { stride } = await built;
      for (let i = 0; i < 5; i++) await page.keyboard.press('ArrowRight');
      const at = bladesAt(stride, 5 / 36);
      const place = `phase 6 of 36: left blade ${mm(at.leftMm)} back, right blade ${mm(at.rightMm)} back`;
      expect(await said(page, '.player-words')).toBe(place);
      expect(await said(page, '.scene-shown')).toBe(`Stride, ${place}`);
      await page.keyboard.press('ArrowLeft');
      expect(await phaseOf(page)).toBe(4);
      await page.keyboard.press(' ');
      await page.waitForFunction(() => {
        const slider = document.querySelector<HTMLInputElement>('.player input[type="range"]');
        return slider !== null && Number(slider.value) > 9;
      });
      await page.keyboard.press(' ');
      const stopped = await phaseOf(page);
      await page.waitForTimeout(600);
      expect(await phaseOf(page)).toBe(stopped);
    }));

  test('the picture changes with the phase; closing brings view and bench back', () =>
    visit({ drawn: true }, async (page) => {
      const pixels = (): Promise<string> => page.evaluate(() => document.querySelector('canvas')!.toDataURL());
      const chosen = (): Promise<(string | null)[]> =>
        page.locator('.scene-controls button[aria-pressed="true"]').allTextContents();
      const before = await chosen();
      await openStudy(page, 'Shoulder');
      expect(await chosen()).toEqual(['Clearance', 'Under the rider', 'Left']);
      await page.waitForTimeout(300);
      const first = await pixels();
      for (let i = 0; i < 12; i++) await page.keyboard.press('ArrowRight');
      await page.waitForTimeout(300);
      expect(await pixels()).not.toBe(first);
      await expect(page.locator('.reading-own').count()).resolves.toBe(1);
      await study(page, 'Shoulder').getByRole('button', { name: 'Close' }).click();
      expect(await chosen()).toEqual(before);
      await expect(page.locator('.scene-shown, .reading-own, .study').count()).resolves.toBe(0);
    }));

  test('solved, taken as one step, run again, undone; a value changed on the card brings its own stride; inches and psi', () =>
    visit({}, async (page) => {
      await openStudy(page, 'Shoulder');
      const clears = page.getByRole('region', { name: 'What would clear it' });
      await clears.getByRole('button', { name: 'Solve the lift' }).click();
      await clears.locator('tbody tr').nth(3).waitFor(PATIENCE);
      const { tree, standing, stride } = await built;
      const solved = solveTip(tree, standing, COARSE_SETUP, stride, { wantedMm: 5, zonesMm: [55] });
      const option = solved.options[0]!.option!;
      const rows = (await clears.locator('tbody tr').allTextContents()).map(plainText);
      expect(rows[0]).toContain(`now: ${mm(75)}${mm(18)}`.replace('18 mm', '18.0 mm'));
      const area = plainText(figureText(areaFigure(option.bearingCm2, METRIC)));
      expect(rows[1]).toContain(`${mm(55)}${gap(option.liftMm)}${gap(option.leastGapMm)}`);
      expect(rows[1]).toContain(area);
      expect(rows[1]).toContain(kPa(option.p95PressureKPa));
      await clears.locator('tbody tr').nth(1).getByRole('button').click();
      await strideDone(page);
      const field = (label: string) => cardOf(page).getByLabel(label, { exact: true }).inputValue();
      expect(Number(await field('Front flare zone'))).toBe(55);
      const lift = Number(await field('Front flare lift'));
      expect(lift).toBe(Math.ceil(option.liftMm * 10) / 10);
      expect(Number.parseFloat(await said(page, '.worst-gap'))).toBeGreaterThanOrEqual(5);
      await page.getByRole('button', { name: /Undo/ }).click();
      expect(Number(await field('Front flare zone'))).toBe(75);
      expect(Number(await field('Front flare lift'))).toBe(18);
      await readingDone(page);
      await strideDone(page);

      await cardOf(page)
        .locator('summary', { hasText: /tips and relief/i })
        .click();
      await typeValue(page, 'Front flare lift', '26');
      await page.waitForFunction(
        () => document.querySelector('.shoulder-results')?.getAttribute('aria-busy') === 'true',
      );
      await readingDone(page);
      await strideDone(page);
      const pattern = { ...((await example('post.pattern.json')) as { values: object }) };
      const changed = buildTree(
        resolvePattern(readPattern({ ...pattern, values: { ...pattern.values, flareLiftFront: 26 } })),
      );
      const run = rideStride(changed, standing, COARSE_SETUP, stride);
      const least = Math.min(...run.phases.flatMap(({ tips }) => tips.map((tip) => tipEdgeGapMm(tip)!)));
      expect(await said(page, '.worst-gap')).toBe(gap(least));
      await page.getByRole('button', { name: 'in, psi, lb' }).click();
      expect(await said(page, '.worst-gap')).toBe(plainText(figureText(gapFigure(least, SHOP))));
      const wanted = page.getByRole('region', { name: 'What would clear it' }).getByRole('textbox');
      expect(await wanted.inputValue()).toBe('0.197');
      await wanted.fill('1/4');
      await page.getByRole('button', { name: 'mm, kPa, kg' }).click();
      expect(await wanted.inputValue()).toMatch(/^6\.[34]$/);
      await page.getByRole('button', { name: 'in, psi, lb' }).click();
      const captions = (await page.locator('.study-chart figcaption').allTextContents()).map(plainText);
      expect(captions[0]).toBe('Clearance, left tip edge, in');
      expect(captions[2]).toBe('Highest pressure under the tips, psi');
    }));

  test('a stride stopped on its way says so and can be run again; a search given up leaves the stride as it is', () =>
    visit({}, async (page) => {
      // Clicked in the page itself, the moment it is there: a fast machine would be done before anybody else could.
      await page.evaluate(() => {
        new MutationObserver((_, observer) => {
          const cancel = document.querySelector<HTMLButtonElement>('.study-running button');
          if (cancel === null) return;
          observer.disconnect();
          cancel.click();
        }).observe(document.body, { childList: true, subtree: true });
      });
      await page.getByRole('button', { name: 'Shoulder', exact: true }).click();
      await page.getByText('Stopped.').waitFor();
      await expect(page.locator('.shoulder-results').count()).resolves.toBe(0);
      await page.getByRole('button', { name: 'Run the stride' }).click();
      await strideDone(page);
      const before = await said(page, '.shoulder-said');
      const clears = page.getByRole('region', { name: 'What would clear it' });
      await clears.getByRole('button', { name: 'Solve the lift' }).click();
      await clears.getByRole('button', { name: 'Cancel' }).click();
      await expect(clears.getByRole('button', { name: 'Solve the lift' }).isEnabled()).resolves.toBe(true);
      await expect(clears.locator('table').count()).resolves.toBe(0);
      expect(await said(page, '.shoulder-said')).toBe(before);
      await expect(page.getByText('Stopped.').count()).resolves.toBe(0);
    }));
});

describe('riding', () => {
  const values = ({ contact, pose, reactions }: FitResult): string[] =>
    [
      pressureFigure(contact.meanPressureKPa, METRIC),
      pressureFigure(contact.p95PressureKPa, METRIC),
      pressureFigure(contact.peakPressureKPa, METRIC),
      angleFigure(pose.pitchDeg),
      angleFigure(pose.rollDeg),
      shareFigure(contact.shareFront),
      shareFigure(contact.shareRear),
      shareFigure(contact.shareLeft),
      forceFigure(reactions.xN, METRIC),
      forceFigure(reactions.yN, METRIC),
    ].map((figure) => plainText(figureText(figure)));

  async function expectRow(page: Page, at: number, riding: RidingCase): Promise<void> {
    const { tree, standing } = await built;
    const { result } = rideCase(tree, createCaseBacks(standing), COARSE_SETUP, riding).fit;
    const cells = page.locator('.riding .study-table tbody tr').nth(at).locator('td');
    const read = (): Promise<string[]> =>
      cells
        .evaluateAll((all) => all.map((cell) => cell.firstChild?.textContent ?? ''))
        .then((texts) => texts.map(plainText));
    await expect
      .poll(async () => [riding.name, ...(await read()).slice(0, 10)], PATIENCE)
      .toEqual([riding.name, ...values(result)]);
    const shown = await read();
    for (const { code } of result.findings) expect(shown[10]).toContain(code.replaceAll('-', ' '));
  }

  const standingCase = ridingCaseSchema.parse({ name: 'standing square' });

  test('every row is the case run by the geometry, the standing one first; a touched row is in the picture; axe finds nothing serious', () =>
    visit({ drawn: true }, async (page) => {
      await openStudy(page, 'Riding');
      const set = RIDING_SETS.find(({ name }) => name === 'Hours at walk on hills')!;
      await expectRow(page, 0, standingCase);
      for (const [i, riding] of set.cases.entries()) await expectRow(page, i + 1, riding);
      await study(page, 'Riding').getByRole('button', { name: 'walk downhill 15 degrees' }).click();
      expect(await said(page, '.scene-shown')).toBe('Case: walk downhill 15 degrees');
      expect(await said(page, '.case-values')).toContain(set.cases[2]!.source);
      await expectFineInEveryLook(page);
    }));

  test('values are changed in place, put back, saved and opened again; what is no riding document is refused by name', () =>
    visit({}, async (page) => {
      await openStudy(page, 'Riding');
      const riding = study(page, 'Riding');
      await riding.getByRole('combobox', { name: 'Set' }).selectOption('Trot work');
      await casesDone(page);
      await riding.getByRole('button', { name: 'sitting trot', exact: true }).click();
      const before = RIDING_SETS.find(({ name }) => name === 'Trot work')!.cases[1]!;
      await typeValue(page, 'Ground rises', '8');
      await riding.getByRole('combobox', { name: 'Weight' }).selectOption('stirrups');
      await casesDone(page);
      await expectRow(page, 2, { ...before, riseDeg: 8, weightIn: 'stirrups' });
      await typeValue(page, 'Load factor', '99');
      expect(plainText(await riding.getByRole('alert').textContent())).toMatch(/6/);
      await page.keyboard.press('Escape');
      const [file] = await Promise.all([
        page.waitForEvent('download'),
        riding.getByRole('button', { name: 'Save set' }).click(),
      ]);
      expect(file.suggestedFilename()).toBe('trot-work.riding.json');
      const text = await readFile(await file.path(), 'utf8');
      const saved = readRiding(JSON.parse(text));
      expect(saved.cases[1]).toMatchObject({ riseDeg: 8, weightIn: 'stirrups' });
      expect(saved.cases[1]!.source).toMatch(/^edited here/);
      await riding.getByRole('button', { name: 'Put back' }).click();
      await casesDone(page);
      await expectRow(page, 2, before);
      const picker = riding.locator('input[type="file"]');
      const opened = { ...saved, name: 'Rail work' };
      const asFile = (name: string, body: unknown) => ({
        name,
        mimeType: 'application/json',
        buffer: Buffer.from(JSON.stringify(body)),
      });
      await picker.setInputFiles(asFile('rail.riding.json', opened));
      await casesDone(page);
      expect(await riding.getByRole('combobox', { name: 'Set' }).locator('option:checked').textContent()).toBe(
        'Rail work',
      );
      await expectRow(page, 2, saved.cases[1]!);
      await picker.setInputFiles(asFile('bad.riding.json', { ...opened, cases: [{ name: 'x', factor: 99 }] }));
      await riding.getByRole('alert').waitFor();
      expect(await riding.getByRole('combobox', { name: 'Set' }).locator('option:checked').textContent()).toBe(
        'Rail work',
      );
    }));
});
