// Writes the pages of docs/ that the code gives: docs/cautions.md and docs/schemas/*.json. Build first (`npm run build`).
// A test makes the same texts from the sources and fails where a page differs.
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Names that `barwright schema` takes, in its order. */
export const SCHEMA_NAMES = [
  'pattern',
  'back',
  'setup',
  'riding',
  'rider',
  'shelf',
  'lesson',
  'bench',
  'numbers',
  'fit-result',
  'sweep-result',
  'shoulder-result',
  'ride-result',
  'flex-result',
  'riding-sets',
  'size-result',
  'reach-result',
  'sure-result',
  'measure-result',
  'back-result',
  'changes-result',
  'compare-result',
  'sheet-result',
  'draw-result',
  'check-result',
  'error',
];

/** The cautions as a page. */
export function cautionsPage(cautions) {
  const items = cautions.map(({ short, full }, i) => `${i + 1}. **${short}** ${full}`);
  const intro =
    'What the bench, the command line and every printed result say beside their figures. Common practice of the trade, ' +
    'no source. This page is written by `node scripts/write-docs.mjs` from `packages/geometry/src/findings/cautions.ts`.';
  return `# Cautions\n\n${intro}\n\n${items.join('\n')}\n`;
}

/** What `barwright schema NAME` prints, without starting a process. */
export async function schemaText(main, name) {
  const said = [];
  const io = {
    folder: '.',
    stdout: (text) => said.push(text),
    stderr: () => {},
    bold: false,
    today: '2000-01-01',
    stopped: async () => {},
  };
  const code = await main(['schema', name], io);
  if (code !== 0) throw new Error(`schema ${name} ended with ${code}: ${said.join('')}`);
  return said.join('');
}

/** Every written page by its path in docs/. */
export async function docsPages({ cautions, main }) {
  const pages = new Map([['cautions.md', cautionsPage(cautions)]]);
  for (const name of SCHEMA_NAMES) pages.set(`schemas/${name}.schema.json`, await schemaText(main, name));
  return pages;
}

const self = fileURLToPath(import.meta.url);
if (process.argv[1] === self) {
  const docs = join(dirname(dirname(self)), 'docs');
  const { CAUTIONS } = await import('../packages/geometry/dist/index.js');
  const { main } = await import('../packages/cli/dist/main.js');
  for (const [path, text] of await docsPages({ cautions: CAUTIONS, main })) {
    const file = join(docs, path);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
    console.log(`docs/${path}`);
  }
}
