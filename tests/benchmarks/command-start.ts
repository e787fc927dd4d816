import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { measureInterleaved } from './measure.ts';
import type { Row } from './row.ts';

const COMMAND = 'packages/cli/bin/barwright.js';
const FIT = ['fit', 'examples/post.pattern.json', 'examples/tuesday.back.json'];

/** W4: whole processes, the command line against a node that does nothing. Run from the project's folder, after a build. */
export async function run(): Promise<Row[]> {
  if (!existsSync('packages/cli/dist/main.js')) return [];
  return [startRow('--help', ['--help']), startRow('fit of the demo', FIT)];
}

function startRow(name: string, args: readonly string[]): Row {
  const timed = (argv: readonly string[]) => (): number => {
    const done = spawnSync(process.execPath, argv, { encoding: 'utf8', maxBuffer: 1 << 28 });
    if (done.status !== 0 && done.status !== 1) throw new Error(`${argv.join(' ')}: ${done.stderr}`);
    return done.stdout.length;
  };
  const times = measureInterleaved(timed([COMMAND, ...args]), timed(['-e', '0']), { rounds: 7, warmUps: 1 });
  return { target: 'W4', name: `barwright ${name} vs node -e 0, whole processes`, ...times, unit: 'ms' };
}
