// Compiles the chart kernel and writes its bytes as a module, so that tests, page and command line need no build step.
// With --check it compares instead.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const SOURCE = 'packages/geometry/kernel/chart-kernel.ts';
const MODULE = 'packages/geometry/src/spatial/wasm-chart-bytes.ts';
const root = join(dirname(fileURLToPath(import.meta.url)), '..');

/** The kernel as a fresh compile gives it. */
function compileKernel() {
  const folder = mkdtempSync(join(tmpdir(), 'barwright-kernel-'));
  const outfile = join(folder, 'kernel.wasm');
  const compiler = join(root, 'node_modules/assemblyscript/bin/asc.js');
  const options = ['-O3', '--noAssert', '--converge', '--enable', 'simd', '--runtime', 'stub', '-o', outfile];
  try {
    execFileSync(process.execPath, [compiler, join(root, SOURCE), ...options], { stdio: 'inherit' });
    return new Uint8Array(readFileSync(outfile));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The module that holds the bytes. */
function kernelModule(bytes) {
  const lines = [];
  for (let at = 0; at < bytes.length; at += 32) lines.push(`  ${[...bytes.slice(at, at + 32)].join(', ')},`);
  return `/** Compiled from kernel/chart-kernel.ts by scripts/build-kernel.mjs; a test compiles it anew and compares. */
// biome-ignore format: bytes
export const CHART_KERNEL_BYTES: Uint8Array<ArrayBuffer> = Uint8Array.of(
${lines.join('\n')}
);
`;
}

const fresh = kernelModule(compileKernel());
if (!process.argv.includes('--check')) writeFileSync(join(root, MODULE), fresh);
else if (readFileSync(join(root, MODULE), 'utf8') === fresh) console.log('same');
else {
  console.log('different');
  process.exitCode = 1;
}
