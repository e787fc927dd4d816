// Type-checks every package under its own settings, two at a time.
import { spawn } from 'node:child_process';

const projects = ['packages/geometry', 'packages/cli', 'packages/viewer', '.'];
const run = (project) =>
  new Promise((done) => {
    const child = spawn('tsc', ['-p', project], { stdio: 'inherit' });
    child.on('close', (code) => done(code ?? 1));
  });

let failed = 0;
const queue = [...projects];
const lane = async () => {
  for (let next = queue.shift(); next; next = queue.shift()) failed += (await run(next)) === 0 ? 0 : 1;
};
await Promise.all([lane(), lane()]);
process.exit(failed === 0 ? 0 : 1);
