import {
  type BackDocument,
  InputError,
  JSON_LIMITS,
  type PatternDocument,
  parseJson,
  READ_LIMITS,
  readBack,
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
  const input = await readInput(folder, name, 'pattern', JSON_LIMITS.maxSize);
  return { input, document: readPattern(parseJson(input.bytes, input.file), input.file) };
}

export async function readBackFile(
  folder: string,
  name: string,
): Promise<{ input: InputFile; document: BackDocument; scan: ScanMesh | null }> {
  const input = await readInput(folder, name, 'back', READ_LIMITS.maxBytes);
  if (!looksLikeJson(input)) throw bareScan(input.file);
  const json = parseJson(input.bytes, input.file);
  const path = await meshPath(json, input);
  const document = readBack(json, input.file);
  return { input, document, scan: path === null ? null : await readScanMesh(path) };
}

export async function readSetupFile(
  folder: string,
  name: string | undefined,
): Promise<{ input: InputFile | null; document: Setup }> {
  if (name === undefined) return { input: null, document: SETUP_DEFAULTS };
  const input = await readInput(folder, name, 'setup', JSON_LIMITS.maxSize);
  return { input, document: readSetup(parseJson(input.bytes, input.file), input.file) };
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
  const input = await readInput('/', path, 'mesh', READ_LIMITS.maxBytes);
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
