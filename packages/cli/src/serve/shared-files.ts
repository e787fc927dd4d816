import { basename } from 'node:path';
import { JSON_LIMITS, parseJson, READ_LIMITS } from '@barwright/geometry';
import { besideDocument, readInput } from '../files/input-file.ts';

/** A file the bench may fetch, and nothing else beside it. */
export interface SharedFile {
  readonly name: string;
  readonly path: string;
  readonly url: string;
}

/** The given files in their order, each with the mesh that a scan document names. Throws InputError for what can't be read. */
export async function listShared(folder: string, names: readonly string[]): Promise<SharedFile[]> {
  const paths: string[] = [];
  for (const name of names) {
    const input = await readInput(folder, name, 'file', READ_LIMITS.maxBytes);
    const mesh = await meshBeside(input);
    for (const path of [input.path, ...(mesh === null ? [] : [mesh])]) if (!paths.includes(path)) paths.push(path);
  }
  return paths.map((path, i) => {
    const name = basename(path);
    return { name, path, url: `/files/${i}-${encodeURIComponent(name)}` };
  });
}

async function meshBeside(input: Awaited<ReturnType<typeof readInput>>): Promise<string | null> {
  if (!/\.json$/i.test(input.file)) return null;
  const json = parseJson(input.bytes, input.file, JSON_LIMITS);
  const isScan = typeof json === 'object' && json !== null && 'kind' in json && json.kind === 'scan';
  if (!isScan || !('mesh' in json) || typeof json.mesh !== 'string') return null;
  const path = await besideDocument(input, json.mesh, 'mesh');
  await readInput('/', path, 'mesh', READ_LIMITS.maxBytes);
  return path;
}
