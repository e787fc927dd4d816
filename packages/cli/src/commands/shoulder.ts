import {
  type BackSurface,
  type Blades,
  prepareFit,
  rideStride,
  type SeatStatus,
  type Setup,
  type Stride,
  type StridePhase,
  solveTip,
  strideOf,
  type TipOverStride,
  type TipSolution,
  type Tree,
  tipEdgeGapMm,
} from '@barwright/geometry';
import { type OutputFile, outputPath, writeWhole } from '../files/write-whole.ts';
import { type FitInputs, listInputs } from '../inputs/fit-inputs.ts';
import { namingFile } from '../inputs/read-documents.ts';
import { readFitInputs } from '../inputs/read-fit-inputs.ts';
import { readChange } from '../inputs/settings.ts';
import { creptSetup, readStrideFlags, type StrideChoices, type StrideFlags } from '../inputs/shoulder-flags.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';
import { type Envelope, envelope, type Warning } from '../output/envelope.ts';
import { plainText } from '../output/plain-text.ts';
import { documentText } from '../output/print-document.ts';
import { remeasureWarnings } from '../output/remeasure-warning.ts';
import { shoulderCsv } from '../output/shoulder-csv.ts';
import { printShoulder } from '../output/shoulder-print.ts';
import { shown } from '../output/table.ts';
import { type ConditionOutcome, checkConditions, readCondition } from '../require/condition.ts';

export const SHOULDER_RESULT_SCHEMA = 'barwright/shoulder-result/1';

export interface ShoulderFlags extends StrideFlags {
  readonly setup?: string;
  readonly set?: readonly string[];
  readonly require?: readonly string[];
  readonly out?: string;
  readonly csv?: string;
}

/** The stride's worst moments against standing. Which tip of two that are alike counts for nothing. */
export interface WorstMoments {
  readonly leastGapMm: number | null;
  readonly leastGapPhase: number | null;
  readonly leastGapSide: 'left' | 'right';
  /** The same tip's, standing. */
  readonly leastGapStandingMm: number | null;
  readonly highestPressureKPa: number;
  readonly highestPressurePhase: number;
  readonly highestPressureSide: 'left' | 'right';
  readonly highestPressureStandingKPa: number;
}

/** One set position over one stride. */
export interface ShoulderRun {
  /** settled, or what the first moment that did not settle came to. */
  readonly status: SeatStatus;
  readonly setPositionMm: number;
  /** Both legs where the horse stood. */
  readonly standing: StridePhase;
  readonly phases: readonly StridePhase[];
  readonly tips: readonly TipOverStride[];
  readonly worst: WorstMoments;
}

export interface ShoulderResult extends ShoulderRun {
  readonly blades: Blades;
  readonly stride: Stride;
  readonly crept: (ShoulderRun & { readonly creepMm: number }) | null;
  readonly clear: TipSolution | null;
}

export interface ShoulderDocument extends Envelope<ShoulderResult> {
  readonly requirements: readonly ConditionOutcome[];
}

/** `barwright shoulder`. Exit 0, or 1 when a moment did not settle or a condition was not met. */
export async function shoulder(
  pattern: string,
  back: string | undefined,
  flags: ShoulderFlags,
  io: Io,
): Promise<ExitCode> {
  const conditions = (flags.require ?? []).map(readCondition);
  const choices = readStrideFlags(flags);
  const inputs = await readFitInputs(pattern, back, flags.setup, (flags.set ?? []).map(readChange), io);
  const places = await placesOf(flags, inputs, io);
  const { result, tree, standing } = runShoulder(inputs, choices, io);
  const requirements = checkConditions(conditions, result);
  const warnings = warningsOf(inputs, tree, standing, result, io.today);
  const document: ShoulderDocument = {
    ...envelope(SHOULDER_RESULT_SCHEMA, listInputs(inputs), result, warnings),
    requirements,
  };
  const text = documentText(document);
  const files: OutputFile[] = [];
  if (places.out !== null) files.push({ path: places.out, content: text });
  if (places.csv !== null) files.push({ path: places.csv, content: shoulderCsv(result) });
  await writeWhole(files);
  printShoulder(document, inputs, standing, io);
  for (const { path } of files) io.stderr(`Wrote ${plainText(path)}\n`);
  io.stdout(text);
  const isSettled = result.status === 'settled' && (result.crept === null || result.crept.status === 'settled');
  return isSettled && requirements.every(({ met }) => met) ? 0 : 1;
}

async function placesOf(flags: ShoulderFlags, inputs: FitInputs, io: Io) {
  const read = listInputs(inputs).flatMap((input) => (input === null ? [] : [input.path]));
  const out = flags.out === undefined ? null : await outputPath(io.folder, flags.out, '--out', read);
  const taken = out === null ? read : [...read, out];
  return { out, csv: flags.csv === undefined ? null : await outputPath(io.folder, flags.csv, '--csv', taken) };
}

function runShoulder(inputs: FitInputs, choices: StrideChoices, io: Io) {
  // The stride moves the blades of the horse as it stood, whatever the setup's legs are.
  const setup: Setup = { ...inputs.documents.setup, legForward: 'none' };
  const crept = choices.creepMm === null ? null : creptSetup(setup, choices.creepMm);
  io.stderr(`Carrying the blades of ${plainText(inputs.title)} through a stride ...\n`);
  const { tree, back: standing } = namingFile(inputs.pattern.input.file, () =>
    prepareFit({ ...inputs.documents, setup }),
  );
  const stride = strideOf(standing, choices.stride);
  const own = runOnce(tree, standing, setup, stride);
  if (crept !== null) io.stderr(`The same, crept forward ${shown(choices.creepMm!)} mm ...\n`);
  const result: ShoulderResult = {
    ...own,
    blades: standing.blades,
    stride,
    crept: crept === null ? null : { ...runOnce(tree, standing, crept, stride), creepMm: choices.creepMm! },
    clear: choices.clear === null ? null : solveEach(tree, standing, setup, stride, choices.clear, io),
  };
  return { result, tree, standing };
}

const STILL = { swingLeftMm: 0, swingRightMm: 0, riseMm: 0, phases: 1 };

function runOnce(tree: Tree, standing: BackSurface, setup: Setup, stride: Stride): ShoulderRun {
  const still = rideStride(tree, standing, setup, { ...stride, ...STILL }).phases[0]!;
  const { phases, tips } = rideStride(tree, standing, setup, stride);
  const status = [still, ...phases].find((moment) => moment.status !== 'settled')?.status ?? 'settled';
  return { status, setPositionMm: setup.setPositionMm, standing: still, phases, tips, worst: worstOf(tips, still) };
}

function worstOf(tips: readonly TipOverStride[], standing: StridePhase): WorstMoments {
  const gap = ({ leastGapMm }: TipOverStride): number => leastGapMm ?? Number.POSITIVE_INFINITY;
  const nearest = tips.reduce((least, tip) => (gap(tip) < gap(least) ? tip : least));
  const hardest = tips.reduce((most, tip) => (tip.highestPressureKPa > most.highestPressureKPa ? tip : most));
  const still = (side: 'left' | 'right') => standing.tips[side === 'left' ? 0 : 1];
  return {
    leastGapMm: nearest.leastGapMm,
    leastGapPhase: nearest.leastGapPhase,
    leastGapSide: nearest.side,
    leastGapStandingMm: tipEdgeGapMm(still(nearest.side)),
    highestPressureKPa: hardest.highestPressureKPa,
    highestPressurePhase: hardest.highestPressurePhase,
    highestPressureSide: hardest.side,
    highestPressureStandingKPa: still(hardest.side).highestPressureKPa,
  };
}

/** One zone after the other, so that somebody waiting sees how far it is. */
function solveEach(
  tree: Tree,
  standing: BackSurface,
  setup: Setup,
  stride: Stride,
  { wantedMm, zonesMm }: NonNullable<StrideChoices['clear']>,
  io: Io,
): TipSolution {
  const { present } = solveTip(tree, standing, setup, stride, { wantedMm, zonesMm: [] });
  const zones = zonesMm ?? [present.zoneMm - 20, present.zoneMm, present.zoneMm + 20].filter((zone) => zone >= 20);
  const options = zones.flatMap((zoneMm, i) => {
    io.stderr(`${i + 1}/${zones.length}  solving the lift for a zone of ${shown(zoneMm)} mm ...\n`);
    return solveTip(tree, standing, setup, stride, { wantedMm, zonesMm: [zoneMm] }).options;
  });
  return { wantedMm, present, options };
}

function warningsOf(
  inputs: FitInputs,
  tree: Tree,
  standing: BackSurface,
  result: ShoulderResult,
  today: string,
): Warning[] {
  const warnings: Warning[] = [];
  const say = (field: string, sentence: string): number => warnings.push({ field, sentence });
  const { assumed } = standing.blades;
  if (assumed.length > 0) {
    say('back.blades', `The back says nothing of the blades' ${assumed.join(' and ')}: an average horse's, assumed.`);
  }
  for (const sentence of inputs.back.scan?.warnings ?? []) say('back.mesh', sentence);
  for (const sentence of standing.warnings) say('back', sentence);
  warnings.push(...remeasureWarnings('back', inputs.back.document, today));
  if (inputs.documents.setup.legForward !== 'none') {
    say('setup.legForward', 'Not used here: the stride carries both blades, from the horse as it stood.');
  }
  const odd = result.phases.filter(({ status }) => status !== 'settled').length;
  if (odd > 0) say('phases', `${odd} of ${result.phases.length} moments did not settle; see their status.`);
  const [left, right] = [tree.left.shape, tree.right.shape];
  const isUneven = left.flareLiftFrontMm !== right.flareLiftFrontMm || left.flareZoneFrontMm !== right.flareZoneFrontMm;
  if (result.clear !== null && isUneven) {
    say('clear', "The front tips differ: what was solved gives both the same flare, from the right one's.");
  }
  return warnings;
}
