import { createHash } from 'node:crypto';
import { constants } from 'node:fs';
import { open, realpath } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { InputError, type InputErrorCode } from '@barwright/geometry';

export type InputRole = 'pattern' | 'back' | 'setup' | 'riding' | 'rider' | 'shelf' | 'mesh' | 'lesson' | 'file';

/** A file as it was read, and as the result names it. */
export interface InputFile {
  readonly role: InputRole;
  /** Name without any folder. */
  readonly file: string;
  readonly sha256: string;
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** A file of the inputs list (DESIGN 7). */
export type InputRecord = Pick<InputFile, 'role' | 'file' | 'sha256'>;

export const recordOf = ({ role, file, sha256 }: InputFile): InputRecord => ({ role, file, sha256 });

const REASONS: Readonly<Record<string, readonly [InputErrorCode, string, string]>> = {
  ENOENT: ['missing', 'a file of this name', 'Check the name and the folder'],
  ENOTDIR: ['missing', 'a file of this name', 'Check the name and the folder'],
  EACCES: ['path', 'a file that may be read', 'Check who may read it'],
  EPERM: ['path', 'a file that may be read', 'Check who may read it'],
  EISDIR: ['wrong-type', 'a file', 'This is a folder: name a file in it'],
  ENAMETOOLONG: ['path', 'a file name that the system can hold', 'Shorten the name'],
  ELOOP: ['path', 'a file', 'The link leads in a circle'],
  ERR_INVALID_ARG_VALUE: ['path', 'a file name without zero bytes', 'Check the name'],
};

/** Reads a whole ordinary file of at most `maxBytes`. Throws InputError naming the file; nothing is read from devices. */
export async function readInput(folder: string, name: string, role: InputRole, maxBytes: number): Promise<InputFile> {
  const path = resolve(folder, name);
  const file = basename(path);
  const bytes = await readWhole(path, file, maxBytes);
  return { role, file, path, bytes, sha256: createHash('sha256').update(bytes).digest('hex') };
}

/** Whether a file is a document rather than a mesh: by its name, or by its first sign where the name says nothing. */
export function looksLikeJson({ file, bytes }: InputFile): boolean {
  if (/\.json$/i.test(file)) return true;
  if (/\.(ply|stl|obj)$/i.test(file)) return false;
  return new TextDecoder('latin1').decode(bytes.subarray(0, 64)).trimStart().startsWith('{');
}

async function readWhole(path: string, file: string, maxBytes: number): Promise<Uint8Array> {
  try {
    // Without O_NONBLOCK, opening a pipe that nobody writes to would hang. Not every system has it.
    const handle = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
    try {
      const stat = await handle.stat();
      refuseSpecial(stat, file, maxBytes);
      return await handle.readFile();
    } finally {
      await handle.close();
    }
  } catch (error) {
    throw translate(error, file);
  }
}

function refuseSpecial(
  stat: { isFile(): boolean; isDirectory(): boolean; size: number },
  file: string,
  maxBytes: number,
): void {
  if (!stat.isFile()) {
    const got = stat.isDirectory() ? 'a folder' : 'a device or a pipe';
    throw new InputError({ code: 'wrong-type', file, got, expected: 'a file', remedy: 'Name an ordinary file' });
  }
  if (stat.size > maxBytes) {
    throw new InputError({
      code: 'too-large',
      file,
      got: `${stat.size} bytes`,
      expected: `at most ${maxBytes} bytes`,
      remedy: 'Keep meshes in their own files beside the document',
    });
  }
}

function translate(error: unknown, file: string): unknown {
  const code = (error as NodeJS.ErrnoException).code;
  const reason = code === undefined || error instanceof InputError ? undefined : REASONS[code];
  if (reason === undefined) return error;
  return new InputError({ code: reason[0], file, got: code!, expected: reason[1], remedy: reason[2] });
}

/**
 * Path of a file that a document names. It has to lie beside the document, and so does what a link points to.
 * Throws InputError 'path'.
 */
export async function besideDocument(document: InputFile, name: string, field: string): Promise<string> {
  const bare = name !== '' && name !== '.' && name !== '..' && !/[/\\:\0]/.test(name);
  const path = join(dirname(document.path), name);
  if (bare && (await staysBeside(path, document.path))) return path;
  throw new InputError({
    code: 'path',
    file: document.file,
    field,
    got: JSON.stringify(name).slice(0, 60),
    expected: 'the name of a file beside the document, without a folder',
    remedy: 'Put the file next to the document and give only its name',
  });
}

async function staysBeside(path: string, documentPath: string): Promise<boolean> {
  try {
    return dirname(await realpath(path)) === dirname(await realpath(documentPath));
  } catch {
    // Absent: reading it says so.
    return true;
  }
}
