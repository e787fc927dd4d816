import { createHash } from 'node:crypto';
import {
  type BackDocument,
  BENCH_LIMITS,
  BENCH_SCHEMA,
  InputError,
  JSON_LIMITS,
  type PatternDocument,
  parseJson,
  READ_LIMITS,
  type ReadBench,
  readBack,
  readBench,
  readPattern,
  readSetup,
  SETUP_DEFAULTS,
  type Setup,
  type TriangleMesh,
} from '@barwright/geometry';
import { besideDocument, type InputFile, looksLikeJson, readInput } from '../files/input-file.ts';
import { readMeshFile } from '../files/load-decoders.ts';

/** A mesh that a scan document names, beside it. */
export interface ScanMesh {
  readonly input: InputFile;
  readonly mesh: TriangleMesh;
  readonly warnings: readonly string[];
}

export async function readPatternFile(
  folder: string,
  name: string,
): Promise<{ input: InputFile; document: PatternDocument }> {
  const input = await readInput(folder, name, 'pattern', BENCH_LIMITS.maxSize);
  const { json, bench } = readJson(input);
  return { input, document: bench?.pattern ?? readPattern(json, input.file) };
}

export async function readBackFile(
  folder: string,
  name: string,
): Promise<{ input: InputFile; document: BackDocument; scan: ScanMesh | null }> {
  const input = await readInput(folder, name, 'back', READ_LIMITS.maxBytes);
  if (!looksLikeJson(input)) throw bareScan(input.file);
  const { json, bench } = readJson(input);
  if (bench !== null) return { input, document: bench.back, scan: await readCarriedMesh(bench, input) };
  const path = await meshPath(json, input);
  const document = readBack(json, input.file);
  return { input, document, scan: path === null ? null : await readScanMesh(path) };
}

export async function readSetupFile(
  folder: string,
  name: string | undefined,
): Promise<{ input: InputFile | null; document: Setup }> {
  if (name === undefined) return { input: null, document: SETUP_DEFAULTS };
  const input = await readInput(folder, name, 'setup', BENCH_LIMITS.maxSize);
  const { json, bench } = readJson(input);
  return { input, document: bench?.setup ?? readSetup(json, input.file) };
}

/** A document; a bench file (`*.bench.json`) stands for each that it carries. Only that may be longer than any other. */
function readJson(input: InputFile): { json: unknown; bench: ReadBench | null } {
  const json = parseJson(input.bytes, input.file, isBenchName(input.file) ? BENCH_LIMITS : JSON_LIMITS);
  const isBench = typeof json === 'object' && json !== null && 'schema' in json && json.schema === BENCH_SCHEMA;
  return { json, bench: isBench ? readBench(json, input.file) : null };
}

export const isBenchName = (file: string): boolean => /\.bench\.json$/i.test(file);

/** The scan in a bench file, as if it lay beside it. */
export function carriedMeshFile({ bench }: ReadBench, { path }: InputFile): InputFile | null {
  const { mesh } = bench.back;
  if (mesh === null) return null;
  const bytes = new Uint8Array(Buffer.from(mesh.base64, 'base64'));
  return { role: 'mesh', file: mesh.fileName, path, bytes, sha256: createHash('sha256').update(bytes).digest('hex') };
}

async function readCarriedMesh(bench: ReadBench, file: InputFile): Promise<ScanMesh | null> {
  const input = carriedMeshFile(bench, file);
  return input === null ? null : meshOf(input);
}

/** A scan on its own says neither unit nor which way the horse faces. */
function bareScan(file: string): InputError {
  return new InputError({
    code: 'wrong-type',
    file,
    got: 'a file that is not JSON',
    expected: 'a back document; a scan needs one that names its unit, axes and landmarks',
    remedy:
      'Write a *.back.json beside the scan: examples/tuesday-scan.back.json shows one. `barwright check` says what a mesh holds.',
  });
}

/** Where the mesh of a scan lies, or null. Checked before the rest of the document, so that a path is refused as one. */
async function meshPath(json: unknown, input: InputFile): Promise<string | null> {
  if (typeof json !== 'object' || json === null || !('kind' in json) || json.kind !== 'scan') return null;
  if (!('mesh' in json) || typeof json.mesh !== 'string') return null;
  return besideDocument(input, json.mesh, 'mesh');
}

async function readScanMesh(path: string): Promise<ScanMesh> {
  return meshOf(await readInput('/', path, 'mesh', READ_LIMITS.maxBytes));
}

async function meshOf(input: InputFile): Promise<ScanMesh> {
  const raw = await readMeshFile(input);
  return { input, mesh: raw.mesh, warnings: raw.warnings };
}

/** Fills in the file's name where an error of the geometry says none. */
export function namingFile<Result>(file: string, work: () => Result): Result {
  try {
    return work();
  } catch (error) {
    throw error instanceof InputError && error.details.file === undefined ? error.inFile(file) : error;
  }
}
