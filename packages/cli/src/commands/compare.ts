import {
  compareFindings,
  compareFits,
  diffPatterns,
  type FindingChange,
  type Fit,
  type FitResult,
  fitTree,
  InputError,
  prepareFit,
} from '@barwright/geometry';
import type { InputRecord } from '../files/input-file.ts';
import { recordOf } from '../files/input-file.ts';
import { type OutputFile, outputPath, writeWhole } from '../files/write-whole.ts';
import { type ComparedFiles, readComparedFiles } from '../inputs/compare-files.ts';
import { type FitInputs, listInputs } from '../inputs/fit-inputs.ts';
import { namingFile } from '../inputs/read-documents.ts';
import { readFitInputs } from '../inputs/read-fit-inputs.ts';
import { readFitResult, valueAt } from '../inputs/read-fit-result.ts';
import { readChange } from '../inputs/settings.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';
import { COMPARED_FIGURES } from '../output/compare-figures.ts';
import { printCompare } from '../output/compare-print.ts';
import { envelope, type Warning } from '../output/envelope.ts';
import { fitWarnings } from '../output/fit-warnings.ts';
import { plainText } from '../output/plain-text.ts';
import { documentText } from '../output/print-document.ts';
import { type MapFlags, mapFormat, mapOptions, renderMap } from '../output/render-map.ts';

export const COMPARE_RESULT_SCHEMA = 'barwright/compare-result/1';

export interface CompareFlags extends MapFlags {
  readonly setup?: string;
  readonly set?: readonly string[];
  readonly out?: string;
  readonly map?: string;
}

/** One of the fits. Figures by their dotted names in the result of `fit`. */
export interface ComparedOne {
  readonly label: string;
  readonly title: string;
  readonly status: FitResult['status'];
  readonly inputs: readonly InputRecord[];
  readonly figures: Readonly<Record<string, number | null>>;
  readonly findings: readonly string[];
}

export interface InputDifference {
  readonly key: string;
  readonly side: 'both' | 'left' | 'right';
  readonly unit: string;
  readonly before: number | string | boolean | null;
  readonly after: number | string | boolean | null;
  readonly delta: number | null;
}

/** One fit held against the first. */
export interface Comparison {
  readonly before: string;
  readonly after: string;
  readonly inputs: readonly InputDifference[];
  readonly figures: readonly { readonly name: string; readonly delta: number | null }[];
  readonly findings: readonly FindingChange[];
  readonly sentences: readonly string[];
}

export interface CompareResult {
  readonly fits: readonly ComparedOne[];
  readonly comparisons: readonly Comparison[];
}

/** A fit with where it came from. */
interface Side {
  readonly title: string;
  readonly result: FitResult;
  readonly inputs: readonly InputRecord[];
  /** null for a result that was kept in a file. */
  readonly documents: FitInputs | null;
  readonly fit: Fit | null;
}

/** `barwright compare`. Exit 0, or 1 when one of the fits did not settle. */
export async function compare(names: readonly string[], flags: CompareFlags, io: Io): Promise<ExitCode> {
  const files = await readComparedFiles(names, io);
  if (files.kind === 'results') refuseFitFlags(flags);
  if (flags.map !== undefined) mapFormat(flags.map);
  const inputs = files.kind === 'results' ? [] : await readPairs(files, flags, io);
  if (flags.map !== undefined) mapOptions(flags, inputs[0]!, io);
  const places = await placesOf(flags, files, inputs, io);
  const sides = files.kind === 'results' ? files.results.map(keptSide) : inputs.map((one) => fitSide(one, io));
  const result: CompareResult = {
    fits: sides.map(comparedOne),
    comparisons: sides.slice(1).map((side, i) => comparisonOf(sides[0]!, side, i + 1)),
  };
  const warnings = warningsOf(sides, io.today);
  const listed = files.kind === 'results' ? files.results.map(({ input }) => input) : uniqueInputs(inputs);
  const text = documentText(envelope(COMPARE_RESULT_SCHEMA, listed, result, warnings));
  const written: OutputFile[] = places.out === null ? [] : [{ path: places.out, content: text }];
  for (const [i, path] of places.maps.entries()) {
    const { fit, documents } = sides[i]!;
    written.push({ path, content: await renderMap(path, fit!, mapOptions(flags, documents!, io)) });
  }
  await writeWhole(written);
  printCompare(result, warnings, io);
  for (const { path } of written) io.stderr(`Wrote ${plainText(path)}\n`);
  io.stdout(text);
  return sides.every((side) => side.result.status === 'settled') ? 0 : 1;
}

function refuseFitFlags(flags: CompareFlags): void {
  const odd = (['setup', 'set', 'map', 'mapEnds'] as const).find((flag) => flags[flag] !== undefined);
  if (odd === undefined) return;
  throw new InputError({
    code: 'usage',
    field: odd === 'mapEnds' ? '--map-ends' : `--${odd}`,
    got: 'given with results',
    expected: 'patterns and a back with this option',
    remedy: 'Results hold figures only: leave the option out, or name the patterns and the back',
  });
}

async function readPairs(
  files: Extract<ComparedFiles, { kind: 'documents' }>,
  flags: CompareFlags,
  io: Io,
): Promise<FitInputs[]> {
  const changes = (flags.set ?? []).map(readChange);
  const inputs: FitInputs[] = [];
  for (const [pattern, back] of files.pairs) {
    inputs.push(await readFitInputs(pattern.name, back.name, flags.setup, changes, io));
  }
  return inputs;
}

async function placesOf(flags: CompareFlags, files: ComparedFiles, inputs: readonly FitInputs[], io: Io) {
  const read = files.kind === 'results' ? files.results.map(({ input }) => input) : uniqueInputs(inputs);
  const taken = read.map(({ path }) => path);
  const place = async (option: string, name: string): Promise<string> => {
    const path = await outputPath(io.folder, name, option, taken);
    taken.push(path);
    return path;
  };
  const out = flags.out === undefined ? null : await place('--out', flags.out);
  const maps: string[] = [];
  if (flags.map !== undefined) {
    for (const i of inputs.keys()) maps.push(await place('--map', flags.map.replace(/(\.[^.]*)$/, `-${i + 1}$1`)));
  }
  return { out, maps };
}

function uniqueInputs(inputs: readonly FitInputs[]) {
  const all = inputs.flatMap(listInputs).flatMap((input) => (input === null ? [] : [input]));
  return [...new Map(all.map((input) => [input.path, input])).values()];
}

/** The very figures and findings that `fit` gives. */
function fitSide(inputs: FitInputs, io: Io): Side {
  io.stderr(`Seating ${plainText(inputs.title)} ...\n`);
  const { tree, back } = namingFile(inputs.pattern.input.file, () => prepareFit(inputs.documents));
  const fit = fitTree(tree, back, inputs.documents.setup, { detail: 'findings' });
  const records = listInputs(inputs).flatMap((input) => (input === null ? [] : [recordOf(input)]));
  return { title: inputs.title, result: fit.result, inputs: records, documents: inputs, fit };
}

function keptSide(file: Extract<ComparedFiles, { kind: 'results' }>['results'][number]): Side {
  const { result, inputs } = readFitResult(file);
  return { title: file.input.file, result, inputs, documents: null, fit: null };
}

const label = (i: number): string => String.fromCharCode(65 + i);

function comparedOne({ title, result, inputs }: Side, i: number): ComparedOne {
  const figures = Object.fromEntries(COMPARED_FIGURES.map(({ name }) => [name, figureOf(result, name)]));
  const findings = [...new Set(result.findings.map(({ code }) => code))];
  return { label: label(i), title, status: result.status, inputs, figures, findings };
}

function figureOf(result: FitResult, name: string): number | null {
  const value = valueAt(result, name);
  return typeof value === 'number' && Number.isFinite(value) ? value : null;
}

function comparisonOf(first: Side, other: Side, i: number): Comparison {
  const figures = COMPARED_FIGURES.map(({ name }) => {
    const [a, b] = [figureOf(first.result, name), figureOf(other.result, name)];
    return { name, delta: a === null || b === null ? null : b - a };
  });
  return {
    ...{ before: label(0), after: label(i), inputs: inputDifferences(first, other), figures },
    findings: compareFindings(first.result, other.result),
    sentences: compareFits(first.result, other.result),
  };
}

/** Values that differ where documents are at hand, otherwise the files that do. */
function inputDifferences(first: Side, other: Side): InputDifference[] {
  const of = (key: string, before: number | string, after: number | string, unit = ''): InputDifference[] =>
    before === after
      ? []
      : [
          {
            ...{ key, side: 'both' as const, unit, before, after },
            delta: typeof before === 'number' && typeof after === 'number' ? after - before : null,
          },
        ];
  if (first.documents === null || other.documents === null) {
    const roles = [...new Set([...first.inputs, ...other.inputs].map(({ role }) => role))];
    const named = ({ inputs }: Side, role: string): string => {
      const file = inputs.find((input) => input.role === role);
      return file === undefined ? 'none' : `${file.file} (${file.sha256.slice(0, 8)})`;
    };
    const load = ({ result }: Side): number => Math.round(result.load.appliedN * 100) / 100;
    return [
      ...roles.flatMap((role) => of(`${role} file`, named(first, role), named(other, role))),
      ...of('load.appliedN', load(first), load(other), 'N'),
    ];
  }
  const [a, b] = [first.documents.documents, other.documents.documents];
  const patterns = diffPatterns(b.pattern, a.pattern).map(({ key, side, unit, parentValue, value, delta }) => ({
    ...{ key, side, unit, delta },
    ...{ before: parentValue, after: value },
  }));
  return [
    ...of('pattern', a.pattern.name, b.pattern.name),
    ...patterns,
    ...of('back', a.back.name, b.back.name),
    ...of('back.measured.on', a.back.measured.on, b.back.measured.on),
    ...of('back.measured.uncertaintyMm', a.back.measured.uncertaintyMm, b.back.measured.uncertaintyMm, 'mm'),
    ...of('back.measured.uncertaintyDeg', a.back.measured.uncertaintyDeg, b.back.measured.uncertaintyDeg, 'deg'),
  ];
}

function warningsOf(sides: readonly Side[], today: string): Warning[] {
  const own = sides.flatMap(({ documents, fit }, i) =>
    documents === null || fit === null
      ? []
      : fitWarnings(documents, fit, { today }).map((warning) => ({ ...warning, labels: [label(i)] })),
  );
  // What holds for several fits is said once.
  const said = new Map<string, (typeof own)[number]>();
  for (const warning of own) {
    const key = `${warning.field}: ${warning.sentence}`;
    const labels = [...(said.get(key)?.labels ?? []), ...warning.labels];
    said.set(key, { ...warning, labels });
  }
  const files = sides.map(({ inputs }) => inputs.map(({ sha256 }) => sha256).join());
  const kept = sides.every(({ documents }) => documents === null);
  const isSameFiles = kept && new Set(files).size < files.length;
  return [
    ...[...said.values()].map(({ labels, field, sentence }) => ({
      field: `${labels.join(' ')}${field === null ? '' : ` ${field}`}`,
      sentence,
    })),
    ...(isSameFiles
      ? [
          {
            field: 'inputs',
            sentence: 'Some results were made from the same files: what --set changed is not kept in a result.',
          },
        ]
      : []),
  ];
}
