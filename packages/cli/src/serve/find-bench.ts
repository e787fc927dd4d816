import { stat } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { InputError } from '@barwright/geometry';

/** Folder of the built bench. Throws InputError 'missing' when it was not built. */
export async function findBench(): Promise<string> {
  // From packages/cli/dist, where the bundle's chunks lie.
  const folder = fileURLToPath(new URL('../../viewer/dist/', import.meta.url));
  const page = await stat(`${folder}index.html`).catch(() => null);
  if (page?.isFile() === true) return folder;
  throw new InputError({
    code: 'missing',
    file: 'index.html',
    expected: 'the built bench',
    remedy: 'Run `npm run build` in the checkout first',
  });
}
