import { existsSync, mkdirSync, readdirSync, renameSync, statSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { deflateRawSync } from 'node:zlib';
import { BENCH_SCHEMA, SETUP_DEFAULTS, type Setup } from '@barwright/geometry';
import { type Browser, type BrowserContext, chromium, type Locator, type Page } from 'playwright-core';
// @ts-expect-error a plain script shared with the benchmarks, without types
import { chromiumArgs, chromiumPath, flatArgs } from '../browser-path.mjs';

export const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const VIEWER = join(ROOT, 'packages/viewer');
const BUILT = join(VIEWER, 'dist');
const CACHE = join(ROOT, 'node_modules/.cache/bench');

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.woff2': 'font/woff2',
  '.json': 'application/json',
};

/** Newest change under the sources that the page is built from, ms. */
export function newestSource(folder: string): number {
  let newest = 0;
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) newest = Math.max(newest, newestSource(path));
    else if (!entry.name.endsWith('.test.ts')) newest = Math.max(newest, statSync(path).mtimeMs);
  }
  return newest;
}

/** The built page: dist when it is newer than its sources, otherwise a build of our own, shared between test files. */
async function builtPage(): Promise<string> {
  const newest = Math.max(
    newestSource(join(VIEWER, 'src')),
    newestSource(join(VIEWER, 'build')),
    newestSource(join(ROOT, 'packages/geometry/src')),
    newestSource(join(ROOT, 'examples')),
  );
  const dist = join(BUILT, 'index.html');
  if (existsSync(dist) && statSync(dist).mtimeMs >= newest) return BUILT;
  const ours = join(CACHE, String(Math.round(newest)));
  if (existsSync(join(ours, 'index.html'))) return ours;
  const { build } = await import('vite');
  const fresh = join(CACHE, `building-${process.pid}`);
  mkdirSync(CACHE, { recursive: true });
  await build({ root: VIEWER, logLevel: 'error', build: { outDir: fresh, emptyOutDir: true } });
  try {
    renameSync(fresh, ours);
    return ours;
  } catch {
    // Another test file built the same sources at the same moment; both builds are good.
    return fresh;
  }
}

async function serve(folder: string): Promise<Server> {
  const server = createServer(async (request, response) => {
    const path = normalize(decodeURIComponent(new URL(request.url ?? '/', 'http://bench').pathname));
    const file = join(folder, path.endsWith(sep) ? `${path}index.html` : path);
    try {
      const body = await readFile(file);
      response.writeHead(200, { 'content-type': TYPES[extname(file)] ?? 'application/octet-stream' });
      response.end(body);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return server;
}

export interface OpenOptions {
  readonly width?: number;
  readonly height?: number;
  readonly dark?: boolean;
  /**
   * True where the test looks at the three-dimensional picture or works in it. By default there is none: the browser
   * has no WebGL, the page says so and everything else works. Drawn in software the picture is most of a test's time.
   */
  readonly drawn?: boolean;
  /**
   * The bench is opened by a link with COARSE_SETUP: every fit takes a fifth of the time. For tests of what a study does
   * with its fits, which are then held against the geometry's under the same setup.
   */
  readonly coarse?: boolean;
}

/** What a coarse bench has on it. */
export const COARSE_SETUP: Setup = { ...SETUP_DEFAULTS, samples: 1500 };

/** The part of an address that carries the demos that a query names, under the coarse setup. */
async function coarseHash(query: string): Promise<string> {
  const named = new URLSearchParams(query);
  const read = async (file: string): Promise<unknown> =>
    JSON.parse(await readFile(join(ROOT, 'examples', file), 'utf8'));
  const bench = {
    schema: BENCH_SCHEMA,
    name: 'coarse',
    pattern: await read(`${named.get('pattern') ?? 'post'}.pattern.json`),
    back: { document: await read(`${named.get('back') ?? 'dumpling'}.back.json`) },
    setup: COARSE_SETUP,
  };
  return `#bench=${deflateRawSync(JSON.stringify(bench)).toString('base64url')}`;
}

export interface Bench {
  readonly url: string;
  /** A page in a browser of its own, as if opened for the first time, when its first figures are there. */
  open(query: string, options?: OpenOptions): Promise<OpenPage>;
  close(): Promise<void>;
}

export interface OpenPage {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Errors on the console, exceptions, and requests to anywhere but the bench. */
  readonly complaints: string[];
}

const started = new Map<boolean, Promise<Browser>>();

/** A browser with or without WebGL, started when a page first asks for it; files that share a worker share it. */
async function browserOf(drawn: boolean): Promise<Browser> {
  const known = await started.get(drawn)?.catch(() => undefined);
  if (known?.isConnected()) return known;
  const launched = chromiumPath().then((executablePath: string) =>
    chromium.launch({ executablePath, args: drawn ? chromiumArgs : flatArgs }),
  );
  started.set(drawn, launched);
  return launched;
}

export async function startBench(): Promise<Bench> {
  const server = await serve(await builtPage());
  const contexts: BrowserContext[] = [];
  const url = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
  return {
    url,
    async open(query, { width = 1440, height = 900, dark = false, drawn = false, coarse = false } = {}) {
      const context = await (await browserOf(drawn)).newContext({
        viewport: { width, height },
        colorScheme: dark ? 'dark' : 'light',
        reducedMotion: 'reduce',
      });
      contexts.push(context);
      const page = await context.newPage();
      const complaints: string[] = [];
      page.on('console', (message) => {
        if (message.type() === 'error') complaints.push(`console: ${message.text()}`);
      });
      page.on('pageerror', (error) => complaints.push(`exception: ${error.message}`));
      page.on('request', (request) => {
        if (!request.url().startsWith(url) && !/^(data|blob):/.test(request.url()))
          complaints.push(`asked for ${request.url()}`);
      });
      await page.goto(`${url}?test&${query}${coarse ? await coarseHash(query) : ''}`);
      await readingDone(page);
      return { page, context, complaints };
    },
    async close() {
      await Promise.all(contexts.map((context) => context.close()));
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}

export const readingOf = (page: Page): Locator => page.getByRole('region', { name: 'Reading' });
export const rulerOf = (page: Page): Locator => page.getByRole('region', { name: 'Ruler' });
export const cardOf = (page: Page): Locator => page.getByRole('region', { name: 'Spec card' });

/** Waits for figures of the documents as they stand; with `full` for causes and capacity too. */
export async function readingDone(page: Page, full = false): Promise<void> {
  await page.waitForFunction(
    (wantsFull) => {
      const reading = document.querySelector('section.reading');
      if (reading === null || reading.getAttribute('aria-busy') !== 'false') return false;
      if (reading.querySelector('dl') === null || reading.querySelector('.stale') !== null) return false;
      return !wantsFull || (reading.querySelector('.capacity') !== null && reading.querySelector('.waiting') === null);
    },
    full,
    { timeout: 45_000 },
  );
}

/** Types into a field of the card as a person does, and ends with Enter. */
export async function typeValue(page: Page, label: string, text: string): Promise<void> {
  const field = page.getByLabel(label, { exact: true });
  await field.fill(text);
  await field.press('Enter');
}

/** Goes on by Tab until what this selector finds has the keyboard; never, where Tab doesn't lead there. */
export async function tabTo(page: Page, selector: string): Promise<void> {
  for (let i = 0; i < 150; i++) {
    if (await page.evaluate((wanted) => document.activeElement?.matches(wanted) === true, selector)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`Tab does not lead to ${selector}`);
}

/** Text with the page's thin spaces and true minus brought to plain ones. */
export const plainText = (text: string | null): string =>
  (text ?? '')
    .replace(/[\u2009\u00a0]/g, ' ')
    .replace(/\u2212/g, '-')
    .replace(/\s+/g, ' ')
    .trim();

/** One line of the figures under the reading, by its name. */
export async function figureOf(page: Page, name: string): Promise<string> {
  const line = readingOf(page).locator('.line', { has: page.locator('dt', { hasText: new RegExp(`^${name}$`) }) });
  return plainText(await line.locator('dd').textContent());
}

/** Brings the station marker to a place by keys and reads what both gap bands say there, in mm: + clear, - squeeze. */
export async function gapsAt(page: Page, xMm: number): Promise<{ left: number; right: number }> {
  const marker = page.getByRole('slider', { name: /^Station marker/ });
  await marker.focus();
  for (let i = 0; i < 400; i++) {
    const now = Number(await marker.getAttribute('aria-valuenow'));
    if (Math.abs(now - xMm) < 0.5) break;
    const key = now < xMm ? 'ArrowRight' : 'ArrowLeft';
    await marker.press(Math.abs(now - xMm) >= 10 ? `Shift+${key}` : key);
  }
  const said = (await page.locator('.gap-said').allTextContents()).map(plainText);
  const figures = said.map((text) => {
    const match = /^(clear|squeeze) ([\d.]+) mm$/.exec(text);
    if (match === null) throw new Error(`the ruler says "${text}"`);
    return (match[1] === 'clear' ? 1 : -1) * Number(match[2]);
  });
  return { left: figures[0]!, right: figures[1]! };
}
