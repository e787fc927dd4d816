// Bundles and runs the benchmarks: `npm run bench`, or `npm run bench -- settle` for one of them.
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';

// Inside node_modules, so that what stays outside the bundle is found from there.
const cache = 'node_modules/.cache';
mkdirSync(cache, { recursive: true });
const folder = mkdtempSync(join(cache, 'benchmarks-'));
const outfile = join(folder, 'run.mjs');
try {
  await build({
    entryPoints: ['tests/benchmarks/run.ts'],
    outfile,
    bundle: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    conditions: ['barwright-source'],
    external: ['vite', 'esbuild', 'playwright-core', '@sparticuz/chromium'],
    logLevel: 'warning',
  });
  process.exitCode = spawnSync(process.execPath, [outfile, ...process.argv.slice(2)], { stdio: 'inherit' }).status ?? 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
