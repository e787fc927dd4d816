import type { Io } from '../io.ts';
import type { FitInputs } from './fit-inputs.ts';
import { readBackFile, readPatternFile, readSetupFile } from './read-documents.ts';
import { applyChanges, type Change } from './settings.ts';

/** Reads the three documents and makes the changes of --set. */
export async function readFitInputs(
  patternName: string,
  backName: string,
  setupName: string | undefined,
  changes: readonly Change[],
  io: Io,
): Promise<FitInputs> {
  const pattern = await readPatternFile(io.folder, patternName);
  const back = await readBackFile(io.folder, backName);
  const setup = await readSetupFile(io.folder, setupName);
  const changed = applyChanges({ pattern: pattern.document, setup: setup.document }, changes);
  const { scan } = back;
  return {
    pattern,
    back,
    setup,
    title: `${changed.pattern.name} on ${back.document.name}`,
    changes,
    documents: {
      pattern: changed.pattern,
      setup: changed.setup,
      back: back.document,
      ...(scan === null ? {} : { mesh: scan.mesh }),
    },
  };
}
