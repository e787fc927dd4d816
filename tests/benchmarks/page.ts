import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { parseJson, readBack, readPattern, SETUP_DEFAULTS, setPatternValue } from '@barwright/geometry';
import { type Browser, chromium } from 'playwright-core';
import { createEngine } from '../../packages/viewer/src/worker/engine.ts';
import { median } from './measure.ts';
import type { Row } from './row.ts';

const DIST = 'packages/viewer/dist';
const FRAME_MS = 1000 / 60;
const INITIAL_LIMIT_KB = 330;
const ROUNDS = 5;

/** W1 and W5: what the worker needs per edit, what the page loads first, and how soon it shows a picture. */
export async function run(): Promise<Row[]> {
  return [...workerSteps(), initialScript(), await firstPicture()];
}

/** The worker's engine, driven as a drag of the overall length drives it. */
function workerSteps(): Row[] {
  const read = (name: string): unknown => parseJson(readFileSync(`examples/${name}`), name);
  const pattern = readPattern(read('wren.pattern.json'));
  const json = read('dumpling.back.json');
  readBack(json);
  const back = { json, name: 'dumpling.back.json', mesh: null } as never;
  const step = (name: 'bars' | 'figures'): number => {
    const engine = createEngine();
    const times: number[] = [];
    for (let i = 0; i < 60; i++) {
      const inputs = {
        version: i,
        pattern: setPatternValue(pattern, 'length', 500 + i),
        setup: SETUP_DEFAULTS,
        backId: 1,
        ...(i === 0 ? { back } : {}),
      };
      const begun = performance.now();
      engine[name](inputs);
      if (i >= 20) times.push(performance.now() - begun);
    }
    return median(times);
  };
  return (['bars', 'figures'] as const).map((name) => {
    const ours = step(name);
    return {
      target: 'W1',
      name: `worker, ${name} per 1 mm of length, against one frame at 60 Hz`,
      ours,
      reference: FRAME_MS,
      ratio: FRAME_MS / ours,
      unit: 'ms',
      accuracy: '10,000 cells, rigid, settled to 1e-6 of the load; drawing left out',
    };
  });
}

/** Compressed size of the scripts that index.html names. */
function initialScript(): Row {
  const page = readFileSync(join(DIST, 'index.html'), 'utf8');
  const names = [...page.matchAll(/(?:src|href)="\.\/(assets\/[^"]+\.js)"/g)].map((match) => match[1]!);
  const ours = names.reduce((sum, name) => sum + gzipSync(readFileSync(join(DIST, name))).length / 1000, 0);
  return {
    target: 'W5',
    name: `initial script (${names.length} files) against its limit`,
    ours,
    reference: INITIAL_LIMIT_KB,
    ratio: INITIAL_LIMIT_KB / ours,
    unit: 'kB gz',
  };
}

/** Navigation to a canvas on the page with the bars' figures, against a bare page with one mesh of like size. */
async function firstPicture(): Promise<Row> {
  const { build } = await import('vite');
  // @ts-expect-error a plain script without types
  const { serveFolder } = await import('../../scripts/serve-folder.mjs');
  // @ts-expect-error a plain script without types
  const { chromiumArgs, chromiumPath } = await import('../browser-path.mjs');
  const folder = mkdtempSync(join(tmpdir(), 'barwright-bare-'));
  await build({
    root: 'tests/benchmarks/bare-page',
    configFile: false,
    logLevel: 'error',
    base: './',
    resolve: { alias: fromViewer('react', 'react-dom', '@react-three/fiber') },
    build: { outDir: folder, emptyOutDir: true },
  });
  const servers = [await serveFolder(join(process.cwd(), DIST), 4300), await serveFolder(folder, 4400)];
  const browser = await chromium.launch({ executablePath: await chromiumPath(), args: chromiumArgs });
  try {
    const times: [number[], number[]] = [[], []];
    for (let round = 0; round < ROUNDS; round++) {
      times[0].push(
        await timeTo(browser, `${servers[0].url}?test&fresh`, 'body:has(canvas):has(.ruler path.line.bearing)'),
      );
      times[1].push(await timeTo(browser, servers[1].url, '[data-drawn]'));
    }
    const [ours, reference] = [median(times[0]), median(times[1])];
    const accuracy =
      'ours: canvas, and ruler with the seated tree; reference: fiber, three and one mesh of 79,000 triangles';
    return {
      target: 'W5',
      name: 'first picture, against a bare fiber page',
      ours,
      reference,
      ratio: reference / ours,
      unit: 'ms',
      accuracy,
    };
  } finally {
    await browser.close();
    for (const { server } of servers) server.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The bench's own copies of its libraries. */
function fromViewer(...names: string[]): Record<string, string> {
  return Object.fromEntries(names.map((name) => [name, join(process.cwd(), 'packages/viewer/node_modules', name)]));
}

async function timeTo(browser: Browser, url: string, selector: string): Promise<number> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 } });
  try {
    const page = await context.newPage();
    await page.goto(url, { waitUntil: 'commit' });
    await page.waitForSelector(selector, { state: 'attached' });
    return await page.evaluate(
      () => new Promise<number>((done) => requestAnimationFrame(() => done(performance.now()))),
    );
  } finally {
    await context.close();
  }
}
