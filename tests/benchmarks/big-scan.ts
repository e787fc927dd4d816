import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseJson, readPattern, SETUP_DEFAULTS } from '@barwright/geometry';
import { build as bundle } from 'esbuild';
import { type Browser, chromium, type Page } from 'playwright-core';
import { areaFigure, figureText, METRIC } from '../../packages/viewer/src/look/format.ts';
import { createEngine } from '../../packages/viewer/src/worker/engine.ts';
import { type BigScan, bigScanFiles } from './big-scan-files.ts';
import { median } from './measure.ts';
import type { Row } from './row.ts';

const TRIANGLES = 1_000_000;
const ROUNDS = 5;
const MOST_FILE_SIZES = 4;

/** W2 and W3: a scan of a million triangles opened in the real browser, its time to a coloured fit and its memory. */
export async function run(): Promise<Row[]> {
  const folder = mkdtempSync(join(tmpdir(), 'barwright-scan-'));
  const scan = bigScanFiles(folder, TRIANGLES);
  const area = contactArea(scan);
  const { build } = await import('vite');
  // @ts-expect-error a plain script without types
  const { serveFolder } = await import('../../scripts/serve-folder.mjs');
  // @ts-expect-error a plain script without types
  const { chromiumArgs, chromiumPath } = await import('../browser-path.mjs');
  const page = join(folder, 'page');
  await build({ root: 'packages/viewer', logLevel: 'error', build: { outDir: page, emptyOutDir: true } });
  await bundleLoader(page);
  const { server, url } = await serveFolder(page, 4500);
  const launch = (): Promise<Browser> =>
    chromiumPath().then((executablePath: string) => chromium.launch({ executablePath, args: chromiumArgs }));
  try {
    return [await timeRow(await launch(), url, scan, area), await memoryRow(await launch(), url, scan, area)];
  } finally {
    server.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The contact area of Wren on the scan, as the page has to say it: by the same engine in this process. */
function contactArea(scan: BigScan): string {
  const pattern = readPattern(parseJson(readFileSync('examples/wren.pattern.json'), 'wren.pattern.json'));
  const back = { name: 'Sheet', json: scan.document, mesh: { fileName: 'sheet.ply', bytes: scan.bytes } };
  const fit = createEngine().figures({ version: 1, pattern, setup: SETUP_DEFAULTS, backId: 1, back });
  return figureText(areaFigure(fit.result.contact.areaCm2, METRIC));
}

/** The reference, as a module beside the page. */
async function bundleLoader(folder: string): Promise<void> {
  const contents = "export { PLYLoader } from 'three/addons/loaders/PLYLoader.js';";
  const outfile = join(folder, 'ply-loader.js');
  await bundle({ stdin: { contents, resolveDir: process.cwd() }, outfile, bundle: true, format: 'esm', minify: true });
}

async function timeRow(browser: Browser, url: string, scan: BigScan, area: string): Promise<Row> {
  const times = { ours: [] as number[], seating: [] as number[], cold: [] as number[], warm: [] as number[] };
  try {
    for (let round = 0; round < ROUNDS; round++) {
      const page = await benchPage(browser, url);
      const open = async (): Promise<void> => {
        const { ms, seatingMs } = await openScan(page, scan, area);
        times.ours.push(ms);
        times.seating.push(seatingMs);
      };
      // In turn first and second, so that neither side always has the other's garbage.
      if (round % 2 === 0) await open();
      const [cold, ...warm] = await parseTimes(page, scan);
      times.cold.push(cold);
      times.warm.push(median(warm));
      if (round % 2 === 1) await open();
      await page.context().close();
    }
  } finally {
    await browser.close();
  }
  const [ours, reference, warm, seating] = [times.ours, times.cold, times.warm, times.seating].map(median);
  return {
    target: 'W2',
    name: `${scan.triangles} triangles of binary PLY and their document opened, to a coloured fit, against PLYLoader.parse in the same page`,
    ours,
    reference,
    ratio: reference / ours,
    unit: 'ms',
    accuracy: `${(ours / reference).toFixed(2)} times the loader's first parse, ${(ours / warm).toFixed(2)} times its later ones (${warm.toFixed(0)} ms); seating the tree and drawing from ${seating.toFixed(0)} ms on; contact area ${area} as in node`,
  };
}

async function benchPage(browser: Browser, url: string): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 }, reducedMotion: 'reduce' });
  const page = await context.newPage();
  await page.goto(`${url}?test&fresh&pattern=wren&back=dumpling`);
  await settled(page);
  return page;
}

/** Figures of the documents as they stand, causes and capacity too: nothing is left running. */
async function settled(page: Page): Promise<void> {
  await page.waitForFunction(
    () => {
      const reading = document.querySelector('section.reading');
      const done = reading?.getAttribute('aria-busy') === 'false' && reading.querySelector('.capacity') !== null;
      return done && reading.querySelector('.stale, .waiting') === null;
    },
    undefined,
    { timeout: 120_000 },
  );
}

/** From the picked files to the frame after the one that shows figures of the scan, ms on the page's own clock. */
async function openScan(page: Page, scan: BigScan, area: string): Promise<{ ms: number; seatingMs: number }> {
  const input = page.getByLabel('Files to open');
  const shown = page.evaluate(
    () =>
      new Promise<{ ms: number; reading: string; seatingMs: number }>((done) => {
        let begun = 0;
        let seatingMs = 0;
        new MutationObserver(() => {
          const says = document.querySelector('progress')?.getAttribute('aria-label') ?? '';
          if (seatingMs === 0 && says.includes('seating')) seatingMs = performance.now() - begun;
        }).observe(document.body, { subtree: true, childList: true, attributes: true });
        const look = (): void => {
          const reading = document.querySelector('section.reading');
          const isFit = reading?.getAttribute('aria-busy') === 'false' && reading.querySelector('.stale') === null;
          const isScan = document
            .querySelector<HTMLSelectElement>('select[aria-label="Horse"]')
            ?.textContent?.startsWith('Sheet');
          if (!isFit || !isScan) return void requestAnimationFrame(look);
          requestAnimationFrame(() =>
            done({ ms: performance.now() - begun, reading: reading.textContent ?? '', seatingMs }),
          );
        };
        document.addEventListener(
          'change',
          () => {
            begun = performance.now();
            requestAnimationFrame(look);
          },
          { capture: true, once: true },
        );
      }),
  );
  await input.setInputFiles([scan.plyPath, scan.documentPath]);
  const { ms, reading, seatingMs } = await shown;
  const plain = reading.replace(/[\u2009\u00a0]/g, ' ');
  if (!plain.includes(area.replace(/[\u2009\u00a0]/g, ' ')))
    throw new Error(`the page says "${plain.slice(0, 300)}", expected ${area}`);
  return { ms, seatingMs };
}

/** The first parse in this page, then two more. */
async function parseTimes(page: Page, scan: BigScan): Promise<number[]> {
  writeFileSync(join(scan.plyPath, '..', 'page', 'sheet.ply'), scan.bytes);
  const { times, triangles } = await page.evaluate(async () => {
    const address = './ply-loader.js';
    const { PLYLoader } = await import(new URL(address, location.href).href);
    const buffer = await (await fetch('./sheet.ply')).arrayBuffer();
    const times: number[] = [];
    let triangles = 0;
    for (let i = 0; i < 3; i++) {
      const begun = performance.now();
      const geometry = new PLYLoader().parse(buffer);
      times.push(performance.now() - begun);
      triangles = geometry.getIndex().count / 3;
    }
    return { times, triangles };
  });
  if (triangles !== scan.triangles) throw new Error(`PLYLoader read ${triangles} triangles`);
  return times;
}

/**
 * Resident memory of all the page's renderer processes above the idle bench, highest of many looks from the picked files until causes,
 * capacity and accuracy are there.
 */
async function memoryRow(browser: Browser, url: string, scan: BigScan, area: string): Promise<Row> {
  try {
    const page = await benchPage(browser, url);
    const session = await page.context().newCDPSession(page);
    await session.send('HeapProfiler.collectGarbage');
    await page.waitForTimeout(500);
    const idle = rendererBytes(browser);
    let peak = idle;
    let fitPeak = 0;
    const watch = setInterval(() => {
      peak = Math.max(peak, rendererBytes(browser));
    }, 10);
    await openScan(page, scan, area);
    fitPeak = peak;
    await settled(page);
    clearInterval(watch);
    await session.send('HeapProfiler.collectGarbage');
    await page.waitForTimeout(500);
    const after = rendererBytes(browser);
    const size = scan.bytes.length;
    const sizes = (bytes: number): string => `${((bytes - idle) / size).toFixed(1)} file sizes`;
    const limit = MOST_FILE_SIZES * size;
    return {
      target: 'W3',
      name: `peak memory above an idle bench, against ${MOST_FILE_SIZES} times the file's size`,
      ours: (peak - idle) / 1e6,
      reference: limit / 1e6,
      ratio: limit / (peak - idle),
      unit: 'MB',
      accuracy: `${sizes(peak)} at the most, ${sizes(fitPeak)} up to the fit, ${sizes(after)} kept; the page's processes, resident; idle ${(idle / 1e6).toFixed(0)} MB`,
    };
  } finally {
    await browser.close();
  }
}

/** Of the processes that this browser started and that hold pages, from the system's table. */
function rendererBytes(browser: Browser): number {
  const mark = browserMark(browser);
  let bytes = 0;
  for (const id of readdirSync('/proc').filter((name) => /^\d+$/.test(name))) {
    try {
      const command = readFileSync(`/proc/${id}/cmdline`, 'utf8');
      if (!command.includes('--type=renderer') || !descendsFrom(Number(id), mark)) continue;
      const pages = Number(/^RssAnon:\s+(\d+) kB/m.exec(readFileSync(`/proc/${id}/status`, 'utf8'))?.[1] ?? 0);
      bytes += pages * 1024;
    } catch {
      // It ended meanwhile.
    }
  }
  return bytes;
}

/** This process: all it started are its children's children. */
const browserMark = (_browser: Browser): number => process.pid;

function descendsFrom(id: number, ancestor: number): boolean {
  for (let at = id; at > 1; ) {
    if (at === ancestor) return true;
    at = Number(/^PPid:\s+(\d+)/m.exec(readFileSync(`/proc/${at}/status`, 'utf8'))?.[1] ?? 0);
  }
  return false;
}
