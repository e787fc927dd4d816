// Bundles and runs the benchmarks: `npm run bench`, or `npm run bench -- settle` for one of them.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';

const folder = mkdtempSync(join(tmpdir(), 'barwright-bench-'));
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
    logLevel: 'warning',
  });
  process.exitCode = spawnSync(process.execPath, [outfile, ...process.argv.slice(2)], { stdio: 'inherit' }).status ?? 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
