import {
  type BackSurface,
  buildBack,
  buildTree,
  JSON_LIMITS,
  listChoices,
  type PatternDocument,
  parseJson,
  type Rider,
  readPattern,
  readRider,
  readShelf,
  resolvePattern,
  type Setup,
  type Shelf,
} from '@barwright/geometry';
import { besideDocument, type InputFile, readInput } from '../files/input-file.ts';
import type { Io } from '../io.ts';
import { plainText } from '../output/plain-text.ts';
import { countFlag } from './number-flags.ts';
import { namingFile, readBackFile, readSetupFile } from './read-documents.ts';

/** Cells of every tree where nothing else is said: a shelf is many trees, and figures change by some per cent only. */
export const SIZE_SAMPLES = 3000;

/** Everything that sizing a shelf needs, read and checked. */
export interface SizeInputs {
  readonly rider: Rider;
  readonly shelf: Shelf;
  readonly pattern: PatternDocument;
  readonly back: Awaited<ReturnType<typeof readBackFile>>;
  readonly standing: BackSurface;
  readonly setup: Setup;
  /** The setup as its file has it, before what sizing sets in it. */
  readonly ownSetup: Setup;
  readonly trees: number;
  readonly files: readonly (InputFile | null)[];
}

/** Reads rider, shelf, the pattern beside the shelf, back and setup, and makes every tree once. Throws InputError. */
export async function readSizeInputs(
  names: { readonly rider: string; readonly shelf: string; readonly back: string; readonly setup: string | undefined },
  samples: string | undefined,
  io: Io,
): Promise<SizeInputs> {
  const count = samples === undefined ? SIZE_SAMPLES : countFlag(samples, '--samples', { least: 200, most: 50_000 });
  const rider = await readRiderFile(io.folder, names.rider);
  const shelf = await readShelfFile(io.folder, names.shelf);
  const back = await readBackFile(io.folder, names.back);
  const setup = await readSetupFile(io.folder, names.setup);
  const { scan } = back;
  io.stderr(`Making the back of ${plainText(back.document.name)} ...\n`);
  const standing = namingFile(back.input.file, () =>
    buildBack(back.document, scan === null ? {} : { mesh: scan.mesh }),
  );
  return {
    rider: rider.document,
    shelf: shelf.document,
    pattern: shelf.pattern,
    back,
    standing,
    setup: { ...setup.document, samples: count, legForward: 'none' },
    ownSetup: setup.document,
    trees: shelf.trees,
    files: [rider.input, shelf.input, shelf.patternInput, back.input, scan?.input ?? null, setup.input],
  };
}

export async function readRiderFile(folder: string, name: string): Promise<{ input: InputFile; document: Rider }> {
  const input = await readInput(folder, name, 'rider', JSON_LIMITS.maxSize);
  const document = namingFile(input.file, () => readRider(parseJson(input.bytes, input.file), input.file));
  return { input, document };
}

interface ShelfInput {
  readonly input: InputFile;
  readonly document: Shelf;
  readonly patternInput: InputFile;
  readonly pattern: PatternDocument;
  readonly trees: number;
}

async function readShelfFile(folder: string, name: string): Promise<ShelfInput> {
  const input = await readInput(folder, name, 'shelf', JSON_LIMITS.maxSize);
  return readShelfWithPattern(parseJson(input.bytes, input.file), input);
}

/** A shelf with the pattern it names, which lies beside it; a tree that can't be made is told before any is settled. */
export async function readShelfWithPattern(json: unknown, input: InputFile): Promise<ShelfInput> {
  const named = typeof json === 'object' && json !== null && 'pattern' in json ? json.pattern : undefined;
  // Before the rest of the document, so that a path is refused as one.
  if (typeof named === 'string') await besideDocument(input, named, 'pattern');
  const document = namingFile(input.file, () => readShelf(json, input.file));
  const path = await besideDocument(input, document.pattern, 'pattern');
  const patternInput = await readInput('/', path, 'pattern', JSON_LIMITS.maxSize);
  const pattern = readPattern(parseJson(patternInput.bytes, patternInput.file), patternInput.file);
  const trees = namingFile(input.file, () => {
    const choices = listChoices(document, pattern);
    for (const choice of choices) buildTree(resolvePattern(choice.pattern));
    return choices.length;
  });
  return { input, document, patternInput, pattern, trees };
}
