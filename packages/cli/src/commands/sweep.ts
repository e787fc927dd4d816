import {
  type BackSurface,
  buildTree,
  type FitResult,
  fitTree,
  InputError,
  type InputErrorDetails,
  prepareFit,
  resolvePattern,
} from '@barwright/geometry';
import { outputPath, writeWhole } from '../files/write-whole.ts';
import { type FitInputs, listInputs } from '../inputs/fit-inputs.ts';
import { namingFile } from '../inputs/read-documents.ts';
import { readFitInputs } from '../inputs/read-fit-inputs.ts';
import { applyChanges, type Change, type Changed, readChange } from '../inputs/settings.ts';
import { MAX_STEPS, readVary, stepValues, type Vary } from '../inputs/vary.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';
import { SHORT_CAUTION } from '../output/cautions.ts';
import { envelope, type Warning } from '../output/envelope.ts';
import { plainText } from '../output/plain-text.ts';
import { documentText } from '../output/print-document.ts';
import { cell, tableText, wrapText } from '../output/table.ts';

export const SWEEP_RESULT_SCHEMA = 'barwright/sweep-result/1';

export interface SweepFlags {
  readonly setup?: string;
  readonly set?: readonly string[];
  readonly vary: readonly string[];
  readonly out?: string;
}

/** One step of a sweep: the values stepped to, and what came of them. */
export interface SweepStep {
  readonly values: readonly number[];
  readonly status: FitResult['status'] | 'refused';
  readonly areaCm2: number | null;
  readonly meanPressureKPa: number | null;
  readonly p95PressureKPa: number | null;
  readonly peakPressureKPa: number | null;
  readonly shareFront: number | null;
  readonly shareMiddle: number | null;
  readonly shareRear: number | null;
  readonly lengthwiseLeftMm: number | null;
  readonly lengthwiseRightMm: number | null;
  readonly pitchDeg: number | null;
  readonly heightMm: number | null;
  readonly excludedFraction: number | null;
  readonly findings: readonly string[];
  readonly refused: Record<'code' | 'expected' | 'remedy', string> | null;
}

/** `barwright sweep`. Exit 0, or 1 when a step did not settle or made no bar. */
export async function sweep(pattern: string, back: string | undefined, flags: SweepFlags, io: Io): Promise<ExitCode> {
  const inputs = await readFitInputs(pattern, back, flags.setup, (flags.set ?? []).map(readChange), io);
  const base: Changed = { pattern: inputs.documents.pattern, setup: inputs.documents.setup };
  const varied = readVaries(flags.vary, base);
  const files = listInputs(inputs).flatMap((input) => (input === null ? [] : [input.path]));
  const out = flags.out === undefined ? null : await outputPath(io.folder, flags.out, '--out', files);
  const steps = runSteps(inputs, base, varied, io);
  const vary = varied.map(({ key, unit, from, to, step, count }) => ({ key, unit, from, to, step, count }));
  const document = envelope(SWEEP_RESULT_SCHEMA, listInputs(inputs), { vary, steps }, sweepWarnings(steps));
  const text = documentText(document);
  if (out !== null) await writeWhole([{ path: out, content: text }]);
  print(varied, steps, inputs.title, io);
  if (out !== null) io.stderr(`Wrote ${plainText(out)}\n`);
  io.stdout(text);
  return steps.every(({ status }) => status === 'settled') ? 0 : 1;
}

function readVaries(texts: readonly string[], base: Changed): Vary[] {
  const varied = texts.map((text) => readVary(text, base));
  const count = varied.reduce((product, { count: n }) => product * n, 1);
  const same = new Set(varied.map(({ key }) => key)).size < varied.length;
  if (varied.length <= 2 && !same && count <= MAX_STEPS) return varied;
  throw new InputError({
    code: count > MAX_STEPS ? 'too-large' : 'usage',
    field: '--vary',
    got: count > MAX_STEPS ? `${count} steps` : texts.join(' ').slice(0, 60),
    expected: count > MAX_STEPS ? `at most ${MAX_STEPS} steps in all` : 'one value, or two different ones',
    remedy: count > MAX_STEPS ? 'Take larger steps' : 'Leave one out',
  });
}

function runSteps(inputs: FitInputs, base: Changed, varied: readonly Vary[], io: Io): SweepStep[] {
  const backs = new Map<string, BackSurface>();
  const all = stepValues(varied);
  return all.map((values, i) => {
    const named = varied.map(({ key }, k): Change => [key, values[k]!]);
    io.stderr(
      `${i + 1}/${all.length}  ${named.map(([key, value]) => `${key} ${cell(Number(value), 2)}`).join('  ')}\n`,
    );
    return runStep(inputs, base, named, backs);
  });
}

/** Every step starts afresh, so that it gives the very figures `fit` gives. The back is built once for each stance. */
function runStep(
  inputs: FitInputs,
  base: Changed,
  named: readonly Change[],
  backs: Map<string, BackSurface>,
): SweepStep {
  const values = named.map(([, value]) => Number(value));
  try {
    const { pattern, setup } = applyChanges(base, named);
    const tree = buildTree(resolvePattern(pattern));
    const stance = setup.legForward;
    const { file } = inputs.back.input;
    const build = (): BackSurface => namingFile(file, () => prepareFit({ ...inputs.documents, pattern, setup }).back);
    const back = backs.get(stance) ?? build();
    backs.set(stance, back);
    return toStep(values, fitTree(tree, back, setup, { detail: 'figures' }).result);
  } catch (error) {
    if (!(error instanceof InputError) || error.details.file === inputs.back.input.file) throw error;
    return refusedStep(values, error.details);
  }
}

function toStep(
  values: readonly number[],
  { status, contact, mismatch, pose, findings, coverage }: FitResult,
): SweepStep {
  const { areaCm2, meanPressureKPa, p95PressureKPa, peakPressureKPa, shareFront, shareMiddle, shareRear } = contact;
  const { lengthwiseLeftMm, lengthwiseRightMm } = mismatch;
  return {
    values,
    status,
    ...{ areaCm2, meanPressureKPa, p95PressureKPa, peakPressureKPa, shareFront, shareMiddle, shareRear },
    ...{ lengthwiseLeftMm, lengthwiseRightMm },
    pitchDeg: pose.pitchDeg,
    heightMm: pose.heightMm,
    excludedFraction: coverage.excludedFraction,
    findings: [...new Set(findings.map(({ code }) => code))],
    refused: null,
  };
}

function refusedStep(values: readonly number[], details: InputErrorDetails): SweepStep {
  const { code, file = null, field = null, got = null, expected, remedy } = details;
  const none = { areaCm2: null, meanPressureKPa: null, p95PressureKPa: null, peakPressureKPa: null };
  const noShares = { shareFront: null, shareMiddle: null, shareRear: null };
  const noShape = { lengthwiseLeftMm: null, lengthwiseRightMm: null, pitchDeg: null, heightMm: null };
  const refused = { code, file, field, got, expected, remedy } as NonNullable<SweepStep['refused']>;
  return { values, status: 'refused', ...none, ...noShares, ...noShape, excludedFraction: null, findings: [], refused };
}

function sweepWarnings(steps: readonly SweepStep[]): Warning[] {
  const odd = steps.filter(({ status }) => status !== 'settled').length;
  return odd === 0
    ? []
    : [{ field: 'steps', sentence: `${odd} of ${steps.length} steps did not settle; see their status.` }];
}

function print(varied: readonly Vary[], steps: readonly SweepStep[], title: string, io: Io): void {
  const head = ['status', 'area cm2', 'mean kPa', 'p95 kPa', 'peak kPa', 'F/M/R %', 'mismatch L/R mm', 'findings'];
  const rows = steps.map((s) => [
    ...s.values.map((value, i) => cell(value, varied[i]!.decimals)),
    s.status,
    cell(s.areaCm2, 0),
    ...[s.meanPressureKPa, s.p95PressureKPa, s.peakPressureKPa].map((value) => cell(value, 1)),
    [s.shareFront, s.shareMiddle, s.shareRear].map((value) => cell(value === null ? null : 100 * value, 0)).join('/'),
    `${cell(s.lengthwiseLeftMm, 1)}/${cell(s.lengthwiseRightMm, 1)}`,
    s.refused === null ? s.findings.join(' ') : plainText(`${s.refused.expected}. ${s.refused.remedy}`),
  ]);
  io.stderr(`\n${plainText(title)}\n`);
  io.stderr(tableText([[...varied.map(({ key, unit }) => `${key} ${unit}`.trim()), ...head], ...rows]));
  io.stderr('  mismatch: + bridges, - rocks, laid on. Area and mean say little without p95, peak and thirds.\n');
  io.stderr(`\n${wrapText(SHORT_CAUTION, '')}\n`);
}
