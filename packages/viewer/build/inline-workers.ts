import type { Plugin } from 'vite';

const MADE = /new Worker\(\s*new URL\('(\.[^']+)', import\.meta\.url\),\s*\{ type: 'module' \}\s*,?\s*\)/g;

/**
 * For the page in one file: every worker's script becomes a text within the page's own, started from a Blob, because a
 * page opened from a disk may not load scripts beside it as workers. The sources stay as they are for the other build.
 */
export function inlineWorkers(): Plugin {
  return {
    name: 'inline-workers',
    enforce: 'pre',
    transform(code, id) {
      if (!/\/viewer\/src\/.*\.tsx?$/.test(id) || !code.includes('new Worker(')) return null;
      const imports: string[] = [];
      const rewritten = code.replace(MADE, (_, path: string) => {
        const name = `InlineWorker${imports.length}`;
        imports.push(`import ${name} from '${path}?worker&inline';`);
        return `new ${name}()`;
      });
      if (imports.length === 0)
        throw new Error(`${id} starts a worker in a way that the page in one file can't follow.`);
      return { code: `${imports.join('\n')}\n${rewritten}`, map: null };
    },
  };
}
