import type { Io } from '../io.ts';
import type { FitInputs } from './fit-inputs.ts';
import { isBenchName, readBackFile, readPatternFile, readSetupFile } from './read-documents.ts';
import { applyChanges, type Change } from './settings.ts';

/**
 * Reads the three documents and makes the changes of --set. A bench file in the pattern's place brings its setup, and its
 * back where none is named.
 */
export async function readFitInputs(
  patternName: string,
  backName: string | undefined,
  setupName: string | undefined,
  changes: readonly Change[],
  io: Io,
): Promise<FitInputs> {
  const pattern = await readPatternFile(io.folder, patternName);
  const whole = isBenchName(patternName) ? patternName : undefined;
  const back = await readBackFile(io.folder, backName ?? patternName);
  const setup = await readSetupFile(io.folder, setupName ?? whole);
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
