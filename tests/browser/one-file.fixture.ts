import { existsSync, mkdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { newestSource, ROOT } from './bench.fixture.ts';

const VIEWER = join(ROOT, 'packages/viewer');
const BUILT = join(VIEWER, 'dist/one-file/barwright.html');

/** Address of the bench in one file on the disk: the built one when it is newer than its sources, else one of our own. */
export async function oneFileAddress(): Promise<string> {
  const newest = Math.max(
    ...['packages/viewer/src', 'packages/viewer/build', 'packages/geometry/src', 'examples'].map((folder) =>
      newestSource(join(ROOT, folder)),
    ),
  );
  if (existsSync(BUILT) && statSync(BUILT).mtimeMs >= newest) return pathToFileURL(BUILT).href;
  const ours = join(ROOT, 'node_modules/.cache/one-file', String(Math.round(newest)));
  const file = join(ours, 'barwright.html');
  if (existsSync(file)) return pathToFileURL(file).href;
  const { build } = await import('vite');
  mkdirSync(ours, { recursive: true });
  const configFile = fileURLToPath(new URL('../../packages/viewer/vite.single.config.ts', import.meta.url));
  await build({ root: VIEWER, configFile, logLevel: 'error', build: { outDir: ours, emptyOutDir: true } });
  return pathToFileURL(file).href;
}
