import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { reachState, SIZES, STATES } from './states.ts';

const DIST = 'packages/viewer/dist';
const FOLDER = 'docs/pictures';

/** Takes every picture of docs/pictures anew, or those whose names are given. */
async function take(asked: readonly string[]): Promise<void> {
  // @ts-expect-error a plain script without types
  const { serveFolder } = await import('../../scripts/serve-folder.mjs');
  // @ts-expect-error a plain script without types
  const { chromiumArgs, chromiumPath } = await import('../browser-path.mjs');
  const { server, url } = await serveFolder(join(process.cwd(), DIST), 4600);
  const browser = await chromium.launch({ executablePath: await chromiumPath(), args: chromiumArgs });
  mkdirSync(FOLDER, { recursive: true });
  try {
    for (const state of STATES) {
      if (asked.length > 0 && !asked.includes(state.name)) continue;
      for (const size of state.sizes) {
        const context = await browser.newContext({
          viewport: SIZES[size],
          colorScheme: state.dark ? 'dark' : 'light',
          reducedMotion: 'reduce',
        });
        const page = await context.newPage();
        await reachState(page, url, state);
        await page.screenshot({ path: join(FOLDER, `${state.name}-${size}.png`) });
        console.log(`${state.name}-${size}`);
        await context.close();
      }
    }
  } finally {
    await browser.close();
    server.close();
  }
  writeFileSync(join(FOLDER, 'README.md'), listing());
}

function listing(): string {
  const rows = STATES.map(({ name, says, sizes }) => `- **${name}** (${sizes.join(', ')}): ${says}`);
  return [
    '# Pictures',
    '',
    `The bench's main states, taken by \`npm run pictures\` from the built page: ${Object.entries(SIZES)
      .map(([name, { width, height }]) => `${name} ${width} x ${height}`)
      .join(', ')}.`,
    '',
    ...rows,
    '',
  ].join('\n');
}

await take(process.argv.slice(2));
