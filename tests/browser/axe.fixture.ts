import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';

interface Violation {
  readonly id: string;
  readonly impact: string | null;
  readonly nodes: readonly { readonly html: string; readonly failureSummary?: string }[];
}

interface Axe {
  run(options: { resultTypes: string[]; preload: boolean }): Promise<{ violations: Violation[] }>;
}

const source = readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Serious and critical findings of axe-core, one line each. */
export async function axe(page: Page): Promise<string[]> {
  await page.evaluate(await source);
  const violations = await page.evaluate(
    async () =>
      (await (globalThis as unknown as { axe: Axe }).axe.run({ resultTypes: ['violations'], preload: false }))
        .violations,
  );
  return violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html.slice(0, 160)} ${node.failureSummary ?? ''}`));
}

export interface Look {
  readonly width: number;
  readonly height: number;
  readonly theme: 'Light' | 'Dark';
}

/** Window and phone, each in daylight and at night; one after another only one of the two changes. */
export const LOOKS: readonly Look[] = [
  { width: 1440, height: 900, theme: 'Light' },
  { width: 390, height: 844, theme: 'Light' },
  { width: 390, height: 844, theme: 'Dark' },
  { width: 1440, height: 900, theme: 'Dark' },
];

/**
 * Brings an open page to one look after another, by its own button and the size of its window, and checks it there.
 * What the page took long to work out is thus worked out once. It is left in the last look.
 */
export async function inLooks(page: Page, looks: readonly Look[], check: (look: Look) => Promise<void>): Promise<void> {
  for (const look of looks) {
    const { width, height, theme } = look;
    const isOther = (await page.locator(`html[data-theme="${theme.toLowerCase()}"]`).count()) === 0;
    if (isOther) {
      // On a phone an open sheet lies over the header.
      await page.setViewportSize({ width: 1440, height: 900 });
      await page.getByRole('banner').getByRole('button', { name: theme, exact: true }).click();
      await page.locator(`html[data-theme="${theme.toLowerCase()}"]`).waitFor();
    }
    await page.setViewportSize({ width, height });
    await check(look);
  }
}

/** Each width and each theme once, for parts whose colours and places are those of what was seen in all four. */
export const TWO_LOOKS: readonly Look[] = [LOOKS[0]!, LOOKS[2]!];

/** In all four looks axe finds nothing serious or critical, and nothing sticks out sideways. */
export const expectFineInEveryLook = (page: Page, looks = LOOKS): Promise<void> =>
  inLooks(page, looks, async ({ width, theme }) => {
    const where = `${theme}, ${width} px`;
    expect(await axe(page), where).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth), where).toBe(width);
  });
