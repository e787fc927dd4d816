import { type Fit, type FitResult, fitTree, prepareFit } from '@barwright/geometry';
import type { InputFile } from '../files/input-file.ts';
import { type OutputFile, outputPath, writeWhole } from '../files/write-whole.ts';
import { type FitInputs, listInputs } from '../inputs/fit-inputs.ts';
import { namingFile } from '../inputs/read-documents.ts';
import { readFitInputs } from '../inputs/read-fit-inputs.ts';
import { readChange } from '../inputs/settings.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';
import { type Envelope, envelope } from '../output/envelope.ts';
import { fitWarnings } from '../output/fit-warnings.ts';
import { plainText } from '../output/plain-text.ts';
import { documentText } from '../output/print-document.ts';
import { printFit } from '../output/print-fit.ts';
import { type MapFlags, mapFormat, mapOptions, renderMap } from '../output/render-map.ts';
import { samplesCsv } from '../output/samples-csv.ts';
import { type ConditionOutcome, checkConditions, readCondition } from '../require/condition.ts';

export const FIT_RESULT_SCHEMA = 'barwright/fit-result/1';

export interface FitFlags extends MapFlags {
  readonly setup?: string;
  readonly set?: readonly string[];
  readonly out?: string;
  readonly samples?: string;
  readonly map?: string;
  readonly require?: readonly string[];
  readonly withOwner?: boolean;
}

/** What `fit` prints: the envelope with the conditions that were asked for. */
export interface FitDocument extends Envelope<FitResult> {
  readonly requirements: readonly ConditionOutcome[];
}

/** `barwright fit`. Exit 0, or 1 when the tree did not settle or a condition was not met. */
export async function fit(pattern: string, back: string | undefined, flags: FitFlags, io: Io): Promise<ExitCode> {
  const changes = (flags.set ?? []).map(readChange);
  const conditions = (flags.require ?? []).map(readCondition);
  const inputs = await readFitInputs(pattern, back, flags.setup, changes, io);
  const places = await checkOutputs(flags, inputs, io);
  io.stderr(`Seating ${plainText(inputs.title)} ...\n`);
  const prepared = namingFile(inputs.pattern.input.file, () => prepareFit(inputs.documents));
  const fitted = fitTree(prepared.tree, prepared.back, inputs.documents.setup);
  const requirements = checkConditions(conditions, fitted.result);
  const warnings = fitWarnings(inputs, fitted, { today: io.today, withOwner: flags.withOwner === true });
  const document: FitDocument = {
    ...envelope(FIT_RESULT_SCHEMA, listInputs(inputs), fitted.result, warnings),
    requirements,
  };
  const text = documentText(document);
  await writeWhole(await contents(places, flags, fitted, inputs, text, io));
  printFit(document, inputs, fitted, io);
  for (const { path } of places.all) io.stderr(`Wrote ${plainText(path)}\n`);
  io.stdout(text);
  return fitted.result.status === 'settled' && requirements.every(({ met }) => met) ? 0 : 1;
}

interface Places {
  readonly out: string | null;
  readonly samples: string | null;
  readonly map: string | null;
  readonly all: readonly { readonly option: string; readonly path: string }[];
}

async function checkOutputs(flags: FitFlags, inputs: FitInputs, io: Io): Promise<Places> {
  if (flags.map !== undefined) {
    mapFormat(flags.map);
    mapOptions(flags, inputs, io);
  }
  const read = listInputs(inputs).flatMap((input: InputFile | null) => (input === null ? [] : [input.path]));
  const all: { option: string; path: string }[] = [];
  const place = async (option: string, name: string | undefined): Promise<string | null> => {
    if (name === undefined) return null;
    const taken = [...read, ...all.map(({ path }) => path)];
    const path = await outputPath(io.folder, name, option, taken);
    all.push({ option, path });
    return path;
  };
  const out = await place('--out', flags.out);
  const samples = await place('--samples', flags.samples);
  const map = await place('--map', flags.map);
  return { out, samples, map, all };
}

async function contents(
  places: Places,
  flags: FitFlags,
  fitted: Fit,
  inputs: FitInputs,
  text: string,
  io: Io,
): Promise<OutputFile[]> {
  const files: OutputFile[] = [];
  if (places.out !== null) files.push({ path: places.out, content: text });
  if (places.samples !== null) files.push({ path: places.samples, content: samplesCsv(fitted.seated) });
  if (places.map !== null) {
    const content = await renderMap(places.map, fitted, mapOptions(flags, inputs, io));
    files.push({ path: places.map, content });
  }
  return files;
}
