// Bundles a script of tests/ with the packages' sources and runs it: `node scripts/run-bundled.mjs tests/benchmarks/run.ts settle`.
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';

const [entry, ...rest] = process.argv.slice(2);
// Inside node_modules, so that what stays outside the bundle is found from there.
const cache = 'node_modules/.cache';
mkdirSync(cache, { recursive: true });
const folder = mkdtempSync(join(cache, 'bundled-'));
const outfile = join(folder, 'run.mjs');
try {
  await build({
    entryPoints: [entry],
    outfile,
    bundle: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    conditions: ['barwright-source'],
    external: ['vite', 'esbuild', 'playwright-core', '@sparticuz/chromium', 'pngjs', 'pixelmatch'],
    logLevel: 'warning',
  });
  process.exitCode = spawnSync(process.execPath, [outfile, ...rest], { stdio: 'inherit' }).status ?? 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
