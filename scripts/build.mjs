// Builds what runs outside the tests: the geometry bundle, the command line, the bench, and the bench in one file.
import { rm } from 'node:fs/promises';
import { build } from 'esbuild';
import { build as buildPage } from 'vite';

const node = {
  bundle: true,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  conditions: ['barwright-source'],
  logLevel: 'warning',
  minify: true,
  legalComments: 'none',
  banner: { js: "import { createRequire as __cr } from 'node:module'; const require = __cr(import.meta.url);" },
};
for (const name of ['geometry', 'cli']) await rm(`packages/${name}/dist`, { recursive: true, force: true });
await build({ ...node, entryPoints: ['packages/geometry/src/index.ts'], outfile: 'packages/geometry/dist/index.js' });
await build({
  ...node,
  entryPoints: { main: 'packages/cli/src/main.ts' },
  outdir: 'packages/cli/dist',
  splitting: true,
  chunkNames: 'chunk-[hash]',
});
await buildPage({ root: 'packages/viewer', logLevel: 'warn' });
await buildPage({ root: 'packages/viewer', configFile: 'packages/viewer/vite.single.config.ts', logLevel: 'warn' });
