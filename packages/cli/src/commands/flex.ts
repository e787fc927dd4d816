import { type GiveStudy, giveSteps, prepareFit, studyGive } from '@barwright/geometry';
import { type OutputFile, outputPath, writeWhole } from '../files/write-whole.ts';
import { listInputs } from '../inputs/fit-inputs.ts';
import { namingFile } from '../inputs/read-documents.ts';
import { readFitInputs } from '../inputs/read-fit-inputs.ts';
import { readChange } from '../inputs/settings.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';
import { envelope, type Warning } from '../output/envelope.ts';
import { flexCsv } from '../output/flex-csv.ts';
import { printFlex } from '../output/flex-print.ts';
import { plainText } from '../output/plain-text.ts';
import { documentText } from '../output/print-document.ts';
import { studyWarnings } from '../output/study-warnings.ts';

export const FLEX_RESULT_SCHEMA = 'barwright/flex-result/1';

export interface FlexFlags {
  readonly setup?: string;
  readonly set?: readonly string[];
  readonly out?: string;
  readonly csv?: string;
}

/** `barwright flex`. Exit 0, or 1 when the tree did not settle, rigid or flexible. */
export async function flex(pattern: string, back: string | undefined, flags: FlexFlags, io: Io): Promise<ExitCode> {
  const inputs = await readFitInputs(pattern, back, flags.setup, (flags.set ?? []).map(readChange), io);
  const read = listInputs(inputs).flatMap((input) => (input === null ? [] : [input.path]));
  const out = flags.out === undefined ? null : await outputPath(io.folder, flags.out, '--out', read);
  const taken = out === null ? read : [...read, out];
  const csv = flags.csv === undefined ? null : await outputPath(io.folder, flags.csv, '--csv', taken);
  const { setup } = inputs.documents;
  const { tree, back: surface } = namingFile(inputs.pattern.input.file, () => prepareFit(inputs.documents));
  const result = run(studyGive(tree, surface, setup), giveSteps(tree, setup), io);
  const warnings: Warning[] = studyWarnings(inputs, surface, io.today);
  if (setup.flex.bars === 'rigid') {
    warnings.push({
      field: 'setup.flex.bars',
      sentence: 'The setup has rigid bars; here they bend, and rigid ones are a row beside them.',
    });
  }
  const text = documentText(envelope(FLEX_RESULT_SCHEMA, listInputs(inputs), result, warnings));
  const files: OutputFile[] = [];
  if (out !== null) files.push({ path: out, content: text });
  if (csv !== null) files.push({ path: csv, content: flexCsv(result) });
  await writeWhole(files);
  printFlex(result, warnings, inputs, surface, io);
  for (const { path } of files) io.stderr(`Wrote ${plainText(path)}\n`);
  io.stdout(text);
  return [result.rigid, result.flexible].every((figures) => figures?.status === 'settled') ? 0 : 1;
}

/** To the end, with a line for every fifth of the way. */
function run(steps: Generator<GiveStudy, GiveStudy>, total: number, io: Io): GiveStudy {
  let done = 0;
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done === true) return step.value;
    done++;
    if (Math.floor((5 * done) / total) > Math.floor((5 * (done - 1)) / total)) io.stderr(`${done}/${total} variants\n`);
  }
}
