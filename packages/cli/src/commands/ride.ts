import {
  type BackSurface,
  createCaseBacks,
  type Finding,
  type FitResult,
  InputError,
  prepareFit,
  RIDING_SETS,
  type Riding,
  type RidingCase,
  rideCase,
} from '@barwright/geometry';
import { type OutputFile, outputPath, writeWhole } from '../files/write-whole.ts';
import { type FitInputs, listInputs } from '../inputs/fit-inputs.ts';
import { namingFile } from '../inputs/read-documents.ts';
import { readFitInputs } from '../inputs/read-fit-inputs.ts';
import { type RidingInput, readRidingInput } from '../inputs/read-riding-input.ts';
import { readChange } from '../inputs/settings.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';
import { envelope, type Warning } from '../output/envelope.ts';
import { plainText } from '../output/plain-text.ts';
import { documentText, printDocument } from '../output/print-document.ts';
import { remeasureWarnings } from '../output/remeasure-warning.ts';
import { rideCsv } from '../output/ride-csv.ts';
import { printRide, printRidings } from '../output/ride-print.ts';

export const RIDE_RESULT_SCHEMA = 'barwright/ride-result/1';
export const RIDING_SETS_SCHEMA = 'barwright/riding-sets/1';

export interface RideFlags {
  readonly riding: string;
  readonly setup?: string;
  readonly set?: readonly string[];
  readonly out?: string;
  readonly csv?: string;
}

export type RideFinding = Pick<Finding, 'code' | 'side' | 'fromMm' | 'toMm' | 'sizeMm' | 'sentence'>;

/** What one case comes to: the parts of a fit that differ from case to case. */
export interface RideCaseResult extends Pick<FitResult, 'status' | 'pose' | 'load' | 'reactions' | 'contact'> {
  readonly case: RidingCase;
  readonly findings: readonly RideFinding[];
  readonly excludedFraction: number;
}

export interface RideResult {
  /** Name of the kind of riding. */
  readonly riding: string;
  readonly cases: readonly RideCaseResult[];
}

/** `barwright ride`. Exit 0, or 1 when a case did not settle. */
export async function ride(pattern: string, back: string | undefined, flags: RideFlags, io: Io): Promise<ExitCode> {
  const riding = await readRidingInput(io.folder, flags.riding);
  const inputs = await readFitInputs(pattern, back, flags.setup, (flags.set ?? []).map(readChange), io);
  const listed = [...listInputs(inputs), riding.input];
  const places = await placesOf(
    flags,
    listed.flatMap((input) => (input === null ? [] : [input.path])),
    io,
  );
  const { result, standing } = runCases(inputs, riding, io);
  const warnings = warningsOf(inputs, standing, result, io.today);
  const text = documentText(envelope(RIDE_RESULT_SCHEMA, listed, result, warnings));
  const files: OutputFile[] = [];
  if (places.out !== null) files.push({ path: places.out, content: text });
  if (places.csv !== null) files.push({ path: places.csv, content: rideCsv(result) });
  await writeWhole(files);
  printRide(result, warnings, inputs, standing, io);
  for (const { path } of files) io.stderr(`Wrote ${plainText(path)}\n`);
  io.stdout(text);
  return result.cases.every(({ status }) => status === 'settled') ? 0 : 1;
}

/** `barwright ride --riding list`: the sets there are, each a riding document as it stands. */
export function listRidings(flags: RideFlags, io: Io): 0 {
  if (flags.out !== undefined || flags.csv !== undefined) {
    throw new InputError({
      code: 'usage',
      field: flags.out === undefined ? '--csv' : '--out',
      got: 'given with --riding list',
      expected: 'a kind of riding',
      remedy: 'The list comes on stdout',
    });
  }
  const result: { sets: readonly Riding[] } = { sets: RIDING_SETS };
  printRidings(RIDING_SETS, io);
  printDocument(envelope(RIDING_SETS_SCHEMA, [], result, []), io);
  return 0;
}

async function placesOf(flags: RideFlags, read: readonly string[], io: Io) {
  const out = flags.out === undefined ? null : await outputPath(io.folder, flags.out, '--out', read);
  const taken = out === null ? read : [...read, out];
  return { out, csv: flags.csv === undefined ? null : await outputPath(io.folder, flags.csv, '--csv', taken) };
}

function runCases(inputs: FitInputs, { riding }: RidingInput, io: Io) {
  const { setup } = inputs.documents;
  // Every case moves the blades of the horse as it stood, whatever the setup's own legs are.
  const { tree, back: standing } = namingFile(inputs.pattern.input.file, () =>
    prepareFit({ ...inputs.documents, setup: { ...setup, legForward: 'none' } }),
  );
  const backs = createCaseBacks(standing);
  const cases = riding.cases.map((one, i): RideCaseResult => {
    io.stderr(`${i + 1}/${riding.cases.length}  ${plainText(one.name)} ...\n`);
    const { status, pose, load, reactions, contact, findings, coverage } = rideCase(tree, backs, setup, one).fit.result;
    const told = findings.map(({ code, side, fromMm, toMm, sizeMm, sentence }) => ({
      ...{ code, side, fromMm, toMm, sizeMm, sentence },
    }));
    const { excludedFraction } = coverage;
    return { case: one, status, pose, load, reactions, contact, findings: told, excludedFraction };
  });
  return { result: { riding: riding.name, cases } satisfies RideResult, standing };
}

function warningsOf(inputs: FitInputs, standing: BackSurface, { cases }: RideResult, today: string): Warning[] {
  const warnings: Warning[] = [];
  const say = (field: string, sentence: string): number => warnings.push({ field, sentence });
  const { assumed } = standing.blades;
  if (assumed.length > 0 && cases.some((one) => one.case.legForward !== 'none')) {
    say('back.blades', `The back says nothing of the blades' ${assumed.join(' and ')}: an average horse's, assumed.`);
  }
  for (const sentence of inputs.back.scan?.warnings ?? []) say('back.mesh', sentence);
  for (const sentence of standing.warnings) say('back', sentence);
  warnings.push(...remeasureWarnings('back', inputs.back.document, today));
  const { legForward, load } = inputs.documents.setup;
  if (legForward !== 'none') say('setup.legForward', 'Not used here: every case says itself which legs are forward.');
  if (load.factor !== 1) say('setup.load.factor', 'Not used here: every case has its own factor.');
  if (load.riseDeg !== 0) say('setup.load.riseDeg', 'Not used here: every case says its own ground.');
  const odd = cases.filter(({ status }) => status !== 'settled').length;
  if (odd > 0) say('cases', `${odd} of ${cases.length} cases did not settle; see their status.`);
  return warnings;
}
