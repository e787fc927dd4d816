import { setImmediate as nextTurn } from 'node:timers/promises';
import {
  heldPressureKPa,
  type SizeCell,
  type SizeResult,
  type SizeRow,
  sizeShelf,
  TIME_CURVE_CAUTION,
} from '@barwright/geometry';
import { type OutputFile, outputPath, writeWhole } from '../files/write-whole.ts';
import { readSizeInputs, type SizeInputs } from '../inputs/read-size-inputs.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';
import { envelope, type Warning } from '../output/envelope.ts';
import { plainText } from '../output/plain-text.ts';
import { documentText } from '../output/print-document.ts';
import { remeasureWarnings } from '../output/remeasure-warning.ts';
import { sizeCsv } from '../output/size-csv.ts';
import { printSize, printStopped, rowLine } from '../output/size-print.ts';

export const SIZE_RESULT_SCHEMA = 'barwright/size-result/1';

export interface SizeFlags {
  readonly setup?: string;
  readonly samples?: string;
  readonly out?: string;
  readonly csv?: string;
}

/** Pressure held still over time, as context beside a day's riding. */
export interface HeldPressure {
  readonly curve: readonly { readonly hours: number; readonly pressureKPa: number }[];
  readonly caution: string;
}

/** A tree with what became of it; whether its seat is the rider's is null where the run was stopped. */
export type SizeCommandRow = Omit<SizeRow, 'isInSeatRange'> & { readonly isInSeatRange: boolean | null };

export interface SizeCommandResult extends Omit<SizeResult, 'seatRange' | 'rows'> {
  /** stopped: ended by the person before the whole shelf was seen, so that nothing is chosen. */
  readonly status: 'complete' | 'stopped';
  readonly rider: { readonly name: string; readonly massKg: number; readonly gearKg: number; readonly riding: string };
  readonly shelf: { readonly name: string; readonly trees: number };
  readonly samples: number;
  readonly seatRange: SizeResult['seatRange'] | null;
  readonly rows: readonly SizeCommandRow[];
  readonly heldPressure: HeldPressure;
}

const HOURS = [0.5, 1, 1.25, 1.5, 1.75, 2, 4];

/** `barwright size`. Exit 0, or 1 when it was stopped or a tree did not settle in some case. */
export async function size(rider: string, shelf: string, back: string, flags: SizeFlags, io: Io): Promise<ExitCode> {
  const inputs = await readSizeInputs({ rider, shelf, back, setup: flags.setup }, flags.samples, io);
  const places = await placesOf(flags, inputs, io);
  const ran = await runShelf(inputs, io);
  const result = resultOf(inputs, ran);
  const warnings = warningsOf(inputs, result, io.today);
  const text = documentText(envelope(SIZE_RESULT_SCHEMA, inputs.files, result, warnings));
  if (result.status === 'stopped') {
    printStopped(result, io);
    io.stdout(text);
    return 1;
  }
  const files: OutputFile[] = [];
  if (places.out !== null) files.push({ path: places.out, content: text });
  if (places.csv !== null) files.push({ path: places.csv, content: sizeCsv(result) });
  await writeWhole(files);
  printSize(result, warnings, inputs, io);
  for (const { path } of files) io.stderr(`Wrote ${plainText(path)}\n`);
  io.stdout(text);
  return result.rows.every(({ cases }) => cases.every(({ status }) => status === 'settled')) ? 0 : 1;
}

async function placesOf(flags: SizeFlags, { files }: SizeInputs, io: Io) {
  const read = files.flatMap((input) => (input === null ? [] : [input.path]));
  const out = flags.out === undefined ? null : await outputPath(io.folder, flags.out, '--out', read);
  const taken = out === null ? read : [...read, out];
  return { out, csv: flags.csv === undefined ? null : await outputPath(io.folder, flags.csv, '--csv', taken) };
}

interface Ran {
  readonly cells: readonly SizeCell[];
  readonly answer: SizeResult | null;
}

/** Tree by tree; between two trees a person who wants it to end is heard. */
async function runShelf(inputs: SizeInputs, io: Io): Promise<Ran> {
  const { rider, shelf, pattern, standing, setup, trees } = inputs;
  let isStopped = false;
  void io.stopped().then(() => {
    isStopped = true;
  });
  io.stderr(
    `${trees} trees, ${rider.riding.cases.length} cases each (${plainText(rider.riding.name)}), ${setup.samples} cells. The first takes longest: the back is put into every posture. Ctrl-C stops after the tree at hand.\n`,
  );
  const cells: SizeCell[] = [];
  const run = sizeShelf({ rider, shelf, pattern, back: standing, setup });
  for (let step = run.next(); ; step = run.next()) {
    if (step.done) return { cells, answer: step.value };
    cells.push(step.value);
    io.stderr(`${cells.length}/${trees}  ${plainText(rowLine(step.value))}\n`);
    await nextTurn();
    if (isStopped && cells.length < trees) return { cells, answer: null };
  }
}

function resultOf(inputs: SizeInputs, { cells, answer }: Ran): SizeCommandResult {
  const { rider, shelf, setup, trees } = inputs;
  return {
    status: answer === null ? 'stopped' : 'complete',
    rider: { name: rider.name, massKg: rider.massKg, gearKg: rider.gearKg, riding: rider.riding.name },
    shelf: { name: shelf.name, trees },
    samples: setup.samples,
    seatRange: answer?.seatRange ?? null,
    rows: answer?.rows ?? cells.map((cell) => ({ ...cell, isInSeatRange: null, reason: null })),
    closest: answer?.closest ?? null,
    needed: answer?.needed ?? [],
    heldPressure: {
      curve: HOURS.map((hours) => ({ hours, pressureKPa: heldPressureKPa(hours) })),
      caution: TIME_CURVE_CAUTION,
    },
  };
}

function warningsOf(inputs: SizeInputs, result: SizeCommandResult, today: string): Warning[] {
  const warnings: Warning[] = [];
  const say = (field: string, sentence: string): number => warnings.push({ field, sentence });
  const { rows, status, shelf } = result;
  if (status === 'stopped') {
    say('status', `Stopped after ${rows.length} of ${shelf.trees} trees: nothing is chosen from part of a shelf.`);
  }
  if (result.seatRange?.isBeyondTable === true) {
    say(
      'seatRange',
      "The rider is lighter or heavier than any row of the table of seats: the nearest row's seats are used.",
    );
  }
  for (const sentence of inputs.back.scan?.warnings ?? []) say('back.mesh', sentence);
  for (const sentence of inputs.standing.warnings) say('back', sentence);
  warnings.push(...remeasureWarnings('back', inputs.back.document, today));
  if (inputs.ownSetup.legForward !== 'none') {
    say('setup.legForward', 'Not used here: every case of riding says itself which legs are forward.');
  }
  const odd = rows.filter(({ cases }) => cases.some((one) => one.status !== 'settled')).length;
  if (odd > 0)
    say('rows', `${odd} of ${rows.length} trees did not settle in every case; see the status of their cases.`);
  return warnings;
}
