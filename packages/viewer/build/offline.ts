import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { Plugin } from 'vite';

const SOURCE = new URL('./service-worker.js', import.meta.url);

/** Writes `service-worker.js` beside the page, with every file of the build and a version made from their contents. */
export function offline(publicFiles: readonly string[]): Plugin {
  return {
    name: 'offline',
    apply: 'build',
    generateBundle: {
      order: 'post',
      handler(_, bundle) {
        const files = [...Object.keys(bundle), ...publicFiles].sort();
        const hash = createHash('sha256');
        for (const name of files) {
          const part = bundle[name];
          hash.update(name).update(part === undefined ? '' : part.type === 'chunk' ? part.code : part.source);
        }
        const source = readFileSync(SOURCE, 'utf8')
          .replace('VERSION_OF_BUILD', hash.digest('hex').slice(0, 16))
          .replace("['FILES_OF_BUILD']", JSON.stringify(files.map((name) => `./${name}`)));
        this.emitFile({ type: 'asset', fileName: 'service-worker.js', source });
      },
    },
  };
}
