import { HOW_SURE_DEFAULTS, type HowSure, howSure, prepareFit, repeatWords } from '@barwright/geometry';
import { outputPath, writeWhole } from '../files/write-whole.ts';
import { listInputs } from '../inputs/fit-inputs.ts';
import { readCount } from '../inputs/read-count.ts';
import { namingFile } from '../inputs/read-documents.ts';
import { readFitInputs } from '../inputs/read-fit-inputs.ts';
import { readChange } from '../inputs/settings.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';
import { envelope } from '../output/envelope.ts';
import { plainText } from '../output/plain-text.ts';
import { documentText } from '../output/print-document.ts';
import { studyWarnings } from '../output/study-warnings.ts';
import { printSure } from '../output/sure-print.ts';

export const SURE_RESULT_SCHEMA = 'barwright/sure-result/1';

export interface SureFlags {
  readonly setup?: string;
  readonly set?: readonly string[];
  readonly draws?: string;
  readonly seed?: string;
  readonly out?: string;
}

export interface SureResult extends HowSure {
  readonly pattern: string;
  readonly back: string;
  readonly samples: number;
  /** What to do first; null when no finding is open. */
  readonly advice: string | null;
}

/** `barwright sure`. Exit 0, or 1 when there is no band: the tree did not settle on the back as measured. */
export async function sure(pattern: string, back: string | undefined, flags: SureFlags, io: Io): Promise<ExitCode> {
  const draws = readCount('--draws', flags.draws, HOW_SURE_DEFAULTS.draws, { least: 20, most: 5000 });
  const seed = readCount('--seed', flags.seed, HOW_SURE_DEFAULTS.seed, { least: 0, most: 2 ** 32 - 1 });
  const inputs = await readFitInputs(pattern, back, flags.setup, (flags.set ?? []).map(readChange), io);
  const read = listInputs(inputs).flatMap((input) => (input === null ? [] : [input.path]));
  const out = flags.out === undefined ? null : await outputPath(io.folder, flags.out, '--out', read);
  const { tree, back: surface } = namingFile(inputs.back.input.file, () => prepareFit(inputs.documents));
  const { samples } = HOW_SURE_DEFAULTS;
  const found = drawAll(howSure(tree, surface, inputs.documents.setup, { draws, seed, samples }), draws, io);
  const result: SureResult = { pattern: tree.name, back: surface.name, samples, ...found, advice: adviceOf(found) };
  const warnings = [...studyWarnings(inputs, surface, io.today), ...lostWarning(found)];
  const text = documentText(envelope(SURE_RESULT_SCHEMA, listInputs(inputs), result, warnings));
  if (out !== null) await writeWhole([{ path: out, content: text }]);
  printSure(result, warnings, io);
  if (out !== null) io.stderr(`Wrote ${plainText(out)}\n`);
  io.stdout(text);
  return Object.keys(result.bands).length === 0 ? 1 : 0;
}

function drawAll(run: Generator<number, HowSure>, draws: number, io: Io): HowSure {
  let said = 0;
  for (let step = run.next(); ; step = run.next()) {
    if (step.done === true) return step.value;
    const tenth = Math.floor((10 * step.value) / draws);
    if (tenth > said) io.stderr(`${step.value}/${draws} horses drawn\n`);
    said = tenth;
  }
}

function adviceOf({ findings, repeat }: HowSure): string | null {
  if (repeat === null) return null;
  const count = findings.filter(({ isOpen }) => isOpen).length;
  const words = repeatWords(repeat);
  const open = count === 1 ? 'the finding that is open' : `the ${count} findings that are open, taken together`;
  return `${words.charAt(0).toUpperCase()}${words.slice(1)} would narrow ${open} most.`;
}

const lostWarning = ({ lost, draws }: HowSure) =>
  lost === 0
    ? []
    : [{ field: 'lost', sentence: `${lost} of ${draws} drawn horses gave no result and are left out of every band.` }];
