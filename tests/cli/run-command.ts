import { spawn } from 'node:child_process';
import { copyFile, mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import type * as Command from '../../packages/cli/src/main.ts';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/** A folder of one test file: the built command, a page that stands for the bench, and a place to work in. */
export interface Workshop {
  /** Folder the command is run in; holds copies of the demo documents. */
  readonly folder: string;
  /**
   * Runs the built command to its end within the test's own process, as the command lets other programs do: what is loaded
   * and compiled once serves every run. Where more of the environment than the day is asked for, or input, it runs apart.
   */
  run(args: readonly string[], options?: RunOptions): Promise<Outcome>;
  /** Runs the built command in a process of its own, as a shell does: with its streams, its exit code and its memory. */
  runApart(args: readonly string[], options?: RunOptions): Promise<Outcome>;
  /** Path of the command, for a run that has to be ended by hand. */
  readonly command: string;
  close(): Promise<void>;
}

export interface RunOptions {
  readonly env?: Readonly<Record<string, string>>;
  readonly input?: string;
}

export interface Outcome {
  readonly exitCode: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Fewer cells, so that a run takes a second; the figures are those of a coarser grid. */
export const COARSE = ['--set', 'setup.samples=400'] as const;

/**
 * Builds the command as scripts/build.mjs does, into a folder of its own within packages/cli, where its packages are found.
 * The folders lie as in the checkout, so that `view` finds a bench beside it.
 */
export async function openWorkshop(): Promise<Workshop> {
  const cache = join(ROOT, 'packages/cli/node_modules/.cache');
  await mkdir(cache, { recursive: true });
  const home = await mkdtemp(join(cache, 'command-'));
  await build({
    absWorkingDir: ROOT,
    entryPoints: { main: 'packages/cli/src/main.ts' },
    outdir: join(home, 'cli/dist'),
    bundle: true,
    splitting: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    conditions: ['barwright-source'],
    minifySyntax: true,
    banner: { js: "import { createRequire as __cr } from 'node:module'; const require = __cr(import.meta.url);" },
  });
  const folder = join(home, 'work');
  await mkdir(join(home, 'cli/bin'), { recursive: true });
  await mkdir(join(home, 'viewer/dist/assets'), { recursive: true });
  await mkdir(folder);
  await writeFile(join(home, 'cli/package.json'), '{"type":"module"}');
  const command = join(home, 'cli/bin/barwright.js');
  await copyFile(join(ROOT, 'packages/cli/bin/barwright.js'), command);
  await writeFile(join(home, 'viewer/dist/index.html'), '<!doctype html><title>bench</title>');
  await writeFile(join(home, 'viewer/dist/assets/a.js'), 'export {};');
  await writeFile(join(home, 'viewer/secret.txt'), 'not to be served');
  for (const name of await readdir(join(ROOT, 'examples'))) {
    if (/\.(json|ply)$/.test(name)) await copyFile(join(ROOT, 'examples', name), join(folder, name));
  }
  const built = import(pathToFileURL(join(home, 'cli/dist/main.js')).href) as Promise<typeof Command>;
  const runApart: Workshop['run'] = (args, options) => runCommand(command, args, folder, options);
  return {
    folder,
    command,
    run: async (args, options = {}) => {
      const { SOURCE_DATE_EPOCH: epoch, ...others } = options.env ?? {};
      if (Object.keys(others).length > 0 || options.input !== undefined) return runApart(args, options);
      return runHere(await built, args, folder, epoch === undefined ? new Date() : new Date(Number(epoch) * 1000));
    },
    runApart,
    close: () => rm(home, { recursive: true, force: true }),
  };
}

/** What the command says on its streams is kept, not printed. */
async function runHere({ main }: typeof Command, args: readonly string[], folder: string, now: Date): Promise<Outcome> {
  let stdout = '';
  let stderr = '';
  const exitCode = await main(args, {
    folder,
    stdout: (text) => {
      stdout += text;
    },
    stderr: (text) => {
      stderr += text;
    },
    bold: false,
    today: now.toISOString().slice(0, 10),
    // Nobody ends it: what is ended by hand needs a process of its own.
    stopped: () => new Promise(() => {}),
  });
  return { exitCode, stdout, stderr };
}

function runCommand(command: string, args: readonly string[], cwd: string, options: RunOptions = {}): Promise<Outcome> {
  return new Promise((resolve, reject) => {
    const env = { ...process.env, NO_COLOR: '1', ...options.env };
    const child = spawn(process.execPath, [command, ...args], { cwd, env });
    let stdout = '';
    let stderr = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      stdout += text;
    });
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      stderr += text;
    });
    child.on('error', reject);
    child.on('close', (exitCode) => resolve({ exitCode, stdout, stderr }));
    child.stdin.end(options.input ?? '');
  });
}
