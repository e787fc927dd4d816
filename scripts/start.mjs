// `npm start`: reads one demo fit aloud, then serves the bench and says where it is.
// BARWRIGHT_ONCE=1 ends after that, for a check that everything starts; BARWRIGHT_PORT asks for another port.
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { serveFolder } from './serve-folder.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** Runs the demo fit and shows what the command says to people; its JSON is not shown. Resolves to its exit code. */
function demoFit() {
  const command = join(root, 'packages/cli/bin/barwright.js');
  const args = [command, 'fit', 'examples/post.pattern.json', 'examples/tuesday.back.json'];
  console.log('Post on Tuesday, from the command line:\n');
  return new Promise((done) => {
    const child = spawn(process.execPath, args, { cwd: root, stdio: ['ignore', 'ignore', 'inherit'] });
    child.on('error', (error) => {
      console.error(String(error));
      done(3);
    });
    child.on('close', (code) => done(code ?? 3));
  });
}

const page = join(root, 'packages/viewer/dist');
if (!existsSync(join(page, 'index.html'))) {
  console.error('The bench is not built yet: run `npm run build` first.');
  process.exit(2);
}

// 1 is a result that did not settle: said above, and no reason to keep the bench closed.
const code = await demoFit();
if (code > 1) console.error(`\nThe demo fit ended with code ${code}; the bench is served all the same.`);

const { server, url } = await serveFolder(page, Number(process.env.BARWRIGHT_PORT ?? 4173));
console.log(`\nThe bench is open at ${url}`);
if (process.env.BARWRIGHT_ONCE === '1') {
  server.close();
  process.exitCode = code > 1 ? code : 0;
} else console.log('Stop it with Ctrl+C.');
