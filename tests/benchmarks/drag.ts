import { join } from 'node:path';
import { type Browser, chromium, type Page, type Worker } from 'playwright-core';
import { median } from './measure.ts';
import type { Row } from './row.ts';

const DIST = 'packages/viewer/dist';
const FRAME_MS = 1000 / 60;
const STEPS = 100;
/** Steps before the first that counts: the worker compiles while it works. */
const WARM_UPS = 40;

/** What the hand moves, with the card that has it. */
const MOVES = [
  { what: 'front slope, 0.1 degree a step', card: /^Spec card$/, field: 'Slope, front' },
  { what: 'set position, 1 mm a step', card: /^Setup:/, field: 'Set position' },
] as const;

type Bars = 'rigid' | 'flexible';

/**
 * W1 in the browser, without its drawing in software: a value moved key by key, rigid and flexible, from the worker's message to its answer,
 * and the page's own work.
 */
export async function run(): Promise<Row[]> {
  // @ts-expect-error a plain script without types
  const { serveFolder } = await import('../../scripts/serve-folder.mjs');
  // @ts-expect-error a plain script without types
  const { chromiumArgs, chromiumPath } = await import('../browser-path.mjs');
  const { server, url } = await serveFolder(join(process.cwd(), DIST), 4500);
  const browser: Browser = await chromium.launch({
    executablePath: await chromiumPath(),
    args: [...chromiumArgs, '--disable-3d-apis'],
  });
  try {
    const rows: Row[] = [];
    for (const bars of ['rigid', 'flexible'] as const) {
      const { page, quick } = await opened(browser, url, bars);
      for (const move of MOVES) rows.push(...(await dragged(page, quick, move, bars)));
      await page.context().close();
    }
    return rows;
  } finally {
    await browser.close();
    server.close();
  }
}

async function opened(browser: Browser, url: string, bars: Bars): Promise<{ page: Page; quick: Worker }> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, reducedMotion: 'reduce' });
  const page = await context.newPage();
  // Ahead of the worker's own listener, which answers before a later one could hear.
  await page.route(/compute\.worker[^/]*\.js$/, async (route) => {
    const response = await route.fetch();
    await route.fulfill({ response, body: `(${watchBars})();${await response.text()}` });
  });
  await page.goto(`${url}?test&calm`);
  await page.waitForSelector('section.reading[aria-busy="false"] dl');
  if (bars === 'flexible') {
    await page.getByRole('button', { name: /^Setup:/ }).click();
    await page.getByRole('button', { name: 'Flexible', exact: true }).click();
    await page.waitForTimeout(500);
    await page.waitForSelector('section.reading[aria-busy="false"] dl');
  }
  return { page, quick: page.workers()[0]! };
}

interface Watched {
  barsMs: number[];
}

/** In the worker: how long every question for bars takes from its message to the answer's. */
function watchBars(): void {
  const times: number[] = [];
  Object.assign(globalThis, { barsMs: times });
  const begun = new Map<string, number>();
  globalThis.addEventListener('message', ({ data }: MessageEvent<{ id?: string; path?: string[] } | null>) => {
    if (data?.id !== undefined && data.path?.[0] === 'bars') begun.set(data.id, performance.now());
  });
  const post = globalThis.postMessage.bind(globalThis);
  globalThis.postMessage = ((message: { id?: string } | null, ...rest: never[]): void => {
    const from = begun.get(message?.id ?? '');
    (post as (...all: unknown[]) => void)(message, ...rest);
    if (from !== undefined) times.push(performance.now() - from);
  }) as typeof globalThis.postMessage;
}

/** One key at a time, each when the bars of the one before are drawn, as fast as a hand's drag is answered at best. */
async function dragged(
  page: Page,
  quick: Worker,
  { what, card, field }: (typeof MOVES)[number],
  bars: Bars,
): Promise<Row[]> {
  await page.getByRole('button', { name: card }).first().click();
  const input = page.getByLabel(field, { exact: true }).first();
  await input.focus();
  const client = await page.context().newCDPSession(page);
  await client.send('Performance.enable');
  const scriptMs = async (): Promise<number> => {
    const { metrics } = await client.send('Performance.getMetrics');
    const of = (name: string): number => metrics.find((metric) => metric.name === name)?.value ?? 0;
    return 1000 * (of('ScriptDuration') + of('LayoutDuration') + of('RecalcStyleDuration'));
  };
  const times = (): Promise<number[]> => quick.evaluate(() => (globalThis as unknown as Watched).barsMs);
  const work: number[] = [];
  const from = (await times()).length;
  for (let step = 0; step < STEPS; step++) {
    const [before, count] = [await scriptMs(), (await times()).length];
    // Not through the field's locator: looking it up by its label is work on the page too.
    await page.keyboard.press(step % 20 < 10 ? 'ArrowUp' : 'ArrowDown');
    for (let i = 0; (await times()).length === count; i++) {
      if (i > 1000) throw new Error(`no answer to ${what}`);
      await page.waitForTimeout(5);
    }
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
    if (step >= WARM_UPS) work.push((await scriptMs()) - before);
  }
  const row = (name: string, ours: number, accuracy: string): Row => ({
    target: 'W1',
    name: `browser, ${bars} bars, ${what}: ${name}, against one frame at 60 Hz`,
    ours,
    reference: FRAME_MS,
    ratio: FRAME_MS / ours,
    unit: 'ms',
    accuracy,
  });
  const cells = bars === 'rigid' ? '10,000 cells to 1e-6 of the load' : '2,400 cells and a coarse shell, to 1e-4';
  return [
    row('worker, from the message to its answer', median((await times()).slice(from + WARM_UPS)), cells),
    row(
      'script, style and layout of the page',
      median(work),
      'no WebGL, so no upload; the figures that follow are in it',
    ),
  ];
}
