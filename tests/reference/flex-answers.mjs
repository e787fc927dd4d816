// Makes the stored answers of bending bars with an outside finite-element program (CalculiX CrunchiX, command ccx).
//   node tests/reference/flex-answers.mjs
// Takes about five minutes. What is modelled stands in flex-cases.fixture.ts and flex-model.fixture.ts.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const here = import.meta.dirname;
const cache = join(here, '../../node_modules/.cache');
mkdirSync(cache, { recursive: true });
const folder = mkdtempSync(join(cache, 'flex-'));
const outfile = join(folder, 'make.mjs');
try {
  await build({
    entryPoints: [join(here, 'flex-make.fixture.ts')],
    outfile,
    bundle: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    conditions: ['barwright-source'],
    logLevel: 'warning',
  });
  const { makeAnswers } = await import(pathToFileURL(outfile).href);
  const today = new Date().toISOString().slice(0, 10);
  const text = makeAnswers(today, (line) => process.stdout.write(`${line}\n`));
  writeFileSync(join(here, 'flex-answers.json'), text);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
