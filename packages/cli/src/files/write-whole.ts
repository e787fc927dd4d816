import type { Stats } from 'node:fs';
import { access, constants, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { InputError } from '@barwright/geometry';

export interface OutputFile {
  readonly path: string;
  readonly content: string | Uint8Array;
}

/**
 * Full path of a file to be written, checked before any work is done: its folder exists and may be written to, it is no
 * folder itself, and it is none of the files that are read or written besides. Throws InputError 'path'.
 */
export async function outputPath(
  folder: string,
  name: string,
  option: string,
  taken: readonly string[],
): Promise<string> {
  const path = resolve(folder, name);
  const refuse = (got: string, expected: string, remedy: string): never => {
    throw new InputError({ code: 'path', file: basename(path), field: option, got, expected, remedy });
  };
  const found = await stat(path).catch(() => null);
  if (found !== null && !found.isFile()) refuse('a folder or a device', 'the name of a file', 'Name a file in it');
  const parent = await stat(dirname(path)).catch(() => null);
  if (parent?.isDirectory() !== true) refuse('no such folder', 'a folder that exists', 'Make the folder first');
  await access(dirname(path), constants.W_OK).catch(() =>
    refuse('a folder that is read-only', 'a folder that may be written to', 'Choose another folder'),
  );
  const isTaken = taken.includes(path) || (found !== null && (await isSameFile(found, taken)));
  if (isTaken) refuse('a file that is read or written besides', 'a file of its own', 'Choose another name');
  return path;
}

/** Whether a file is one of others by another name. */
async function isSameFile({ dev, ino }: Stats, paths: readonly string[]): Promise<boolean> {
  const others = await Promise.all(paths.map((path) => stat(path).catch(() => null)));
  return others.some((other) => other !== null && other.dev === dev && other.ino === ino);
}

/** Writes all files or none: each to a temporary file beside its place first, then all are renamed. */
export async function writeWhole(files: readonly OutputFile[]): Promise<void> {
  const temporary = files.map(({ path }) =>
    join(dirname(path), `.${basename(path).slice(0, 100)}.${process.pid}.part`),
  );
  try {
    for (const [i, { content }] of files.entries()) await writeFile(temporary[i]!, content, { flag: 'wx' });
    for (const [i, { path }] of files.entries()) await rename(temporary[i]!, path);
  } catch (error) {
    await Promise.all(temporary.map((path) => rm(path, { force: true })));
    throw translate(error, files);
  }
}

function translate(error: unknown, files: readonly OutputFile[]): unknown {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === undefined) return error;
  return new InputError({
    code: 'path',
    file: files.map(({ path }) => basename(path)).join(', '),
    got: code,
    expected: 'a place that can be written to',
    remedy: 'Check the disk and who may write there; nothing was written',
  });
}
