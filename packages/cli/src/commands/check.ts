import {
  BENCH_LIMITS,
  checkTracings,
  diffFromParent,
  InputError,
  type InputErrorDetails,
  JSON_LIMITS,
  parseJson,
  READ_LIMITS,
  readBack,
  readBench,
  readLesson,
  readPattern,
  readRider,
  readRiding,
  readSetup,
  resolvePattern,
} from '@barwright/geometry';
import { besideDocument, type InputFile, looksLikeJson, readInput } from '../files/input-file.ts';
import { checkLessonFiles } from '../inputs/lesson-files.ts';
import { carriedMeshFile, isBenchName, namingFile } from '../inputs/read-documents.ts';
import { readShelfWithPattern } from '../inputs/read-size-inputs.ts';
import { setupKeys, setupValue } from '../inputs/set-setup.ts';
import type { Io } from '../io.ts';
import { type CheckResult, checkMesh } from '../output/check-mesh.ts';
import { envelope, type Warning } from '../output/envelope.ts';
import { plainText } from '../output/plain-text.ts';
import { printDocument } from '../output/print-document.ts';
import { tableText } from '../output/table.ts';

export const CHECK_RESULT_SCHEMA = 'barwright/check-result/1';

interface Checked {
  readonly result: CheckResult;
  readonly warnings: readonly Warning[];
  readonly more?: readonly InputFile[];
}

/** `barwright check`: what a file is, its resolved values and remarks. */
export async function check(name: string, io: Io): Promise<0> {
  const input = await readInput(io.folder, name, 'file', READ_LIMITS.maxBytes);
  const checked: Checked = looksLikeJson(input) ? await checkJson(input) : await checkMesh(input);
  print(checked, input, io);
  printDocument(envelope(CHECK_RESULT_SCHEMA, [input, ...(checked.more ?? [])], checked.result, checked.warnings), io);
  return 0;
}

const READERS: Readonly<Record<string, (json: unknown, input: InputFile) => Checked | Promise<Checked>>> = {
  pattern: checkPattern,
  back: checkBack,
  setup: checkSetup,
  riding: checkRiding,
  rider: checkRider,
  shelf: checkShelf,
  lesson: checkLesson,
  bench: checkBench,
};

async function checkJson(input: InputFile): Promise<Checked> {
  const json = parseJson(input.bytes, input.file, isBenchName(input.file) ? BENCH_LIMITS : JSON_LIMITS);
  const schema = typeof json === 'object' && json !== null && 'schema' in json ? json.schema : undefined;
  const kind = typeof schema === 'string' ? /^barwright\/([a-z]+)\/\d+$/.exec(schema)?.[1] : undefined;
  const reader = kind === undefined || !Object.hasOwn(READERS, kind) ? undefined : READERS[kind];
  if (reader !== undefined) return reader(json, input);
  const details: InputErrorDetails = {
    code: schema === undefined ? 'missing' : 'unknown-schema',
    file: input.file,
    field: 'schema',
    expected: Object.keys(READERS)
      .map((name) => `barwright/${name}/1`)
      .join(' or '),
    remedy: 'Open a document that says what it is',
  };
  throw new InputError(schema === undefined ? details : { ...details, got: JSON.stringify(schema).slice(0, 60) });
}

function checkPattern(json: unknown, { file }: InputFile): Checked {
  const document = readPattern(json, file);
  return namingFile(file, () => {
    const resolved = resolvePattern(document);
    const left = Object.entries(resolved.leftValues).filter(([key, value]) => resolved.values[key] !== value);
    const values = { ...resolved.values, ...Object.fromEntries(left.map(([key, value]) => [`left.${key}`, value])) };
    const differences = diffFromParent(document).map(({ label: _, ...difference }) => difference);
    const warnings = resolved.remarks.map(({ field, sentence }) => ({ field, sentence }));
    return { result: { ...nothing('pattern', document), values, differences }, warnings };
  });
}

async function checkBack(json: unknown, input: InputFile): Promise<Checked> {
  const document = readBack(json, input.file);
  const { measured } = document;
  const common = { kind: document.kind, ...measured };
  if (document.kind === 'sections') {
    const { usableLengthMm, bearingLineYMm, bladeSwingMm, stationsMm } = document;
    const values = { ...common, usableLengthMm, bearingLineYMm, bladeSwingMm, stations: stationsMm.length };
    return { result: { ...nothing('back', document), values }, warnings: [] };
  }
  if (document.kind === 'tracings') {
    const questions = checkTracings(document);
    const values = { ...common, unit: document.unit, curves: document.curves.length };
    const warnings = questions.map(({ id, question, evidence }) => ({
      field: `answers.${id}`,
      sentence: `${question} ${evidence}.`,
    }));
    return { result: { ...nothing('back', document), values }, warnings };
  }
  const mesh = await readInput('/', await besideDocument(input, document.mesh, 'mesh'), 'mesh', READ_LIMITS.maxBytes);
  const checked = await checkMesh(mesh);
  const { axes, unit, landmarks } = document;
  const missing = ['bladeEdgeLeft', 'bladeEdgeRight', 'withersTop', 'lowPoint', 'lastRib'].filter(
    (name) => !(name in landmarks),
  );
  const sentence = `Not marked, to be proposed from the shape: ${missing.join(', ')}.`;
  return {
    result: { ...nothing('back', document), values: { ...common, unit, ...axes }, mesh: checked.result.mesh },
    warnings: [...checked.warnings, ...(missing.length === 0 ? [] : [{ field: 'landmarks', sentence }])],
    more: [mesh],
  };
}

function checkSetup(json: unknown, { file }: InputFile): Checked {
  const setup = readSetup(json, file);
  const values = Object.fromEntries(setupKeys(setup).map((key) => [key, setupValue(setup, key)]));
  return { result: { ...nothing('setup', setup), values }, warnings: [] };
}

function checkRiding(json: unknown, { file }: InputFile): Checked {
  const riding = readRiding(json, file);
  const values = Object.fromEntries(
    riding.cases.map(({ name, source }, i) => [`case ${i + 1}`, `${name} (${source})`]),
  );
  return { result: { ...nothing('riding', riding), values }, warnings: [] };
}

function checkRider(json: unknown, { file }: InputFile): Checked {
  const { name, massKg, gearKg, thigh, riding } = namingFile(file, () => readRider(json, file));
  const values = { massKg, gearKg, thigh, riding: riding.name, cases: riding.cases.length };
  return { result: { ...nothing('rider', { schema: 'barwright/rider/1', name }), values }, warnings: [] };
}

async function checkShelf(json: unknown, input: InputFile): Promise<Checked> {
  const { document, patternInput, trees } = await readShelfWithPattern(json, input);
  const labels = (items: readonly { label: string }[]): string => items.map(({ label }) => label).join(', ') || 'none';
  const { pattern, barLength, widths, seats, tips, skirts, pads } = document;
  const values = {
    ...{ pattern, barLength, widths: labels(widths), seats: seats.join(', '), tips: labels(tips) },
    ...{ skirts: labels(skirts), pads: labels(pads), trees },
  };
  return { result: { ...nothing('shelf', document), values }, warnings: [], more: [patternInput] };
}

async function checkLesson(json: unknown, input: InputFile): Promise<Checked> {
  const lesson = readLesson(json, input.file);
  const more = await checkLessonFiles(lesson, input);
  const values = Object.fromEntries(lesson.steps.map(({ title }, i) => [`step ${i + 1}`, title]));
  return { result: { ...nothing('lesson', lesson), values }, warnings: [], more };
}

/** What a bench carries, each part by its name; the scan in it is looked at like one in a file. */
async function checkBench(json: unknown, input: InputFile): Promise<Checked> {
  const read = readBench(json, input.file);
  const { bench, pattern, back, setup, lesson } = read;
  const mesh = carriedMeshFile(read, input);
  const seen = mesh === null ? null : await checkMesh(mesh);
  const values = {
    ...{ pattern: pattern.name, back: back.name, setup: setup.name },
    ...(lesson === null ? {} : { lesson: lesson.name, step: bench.lesson!.step + 1 }),
  };
  return {
    result: { ...nothing('bench', bench), values, mesh: seen?.result.mesh ?? null },
    warnings: seen?.warnings ?? [],
  };
}

function nothing(kind: CheckResult['kind'], { schema, name }: { schema: string; name: string }): CheckResult {
  return { kind, documentSchema: schema, name, values: {}, differences: [], mesh: null };
}

function print({ result, warnings }: Checked, input: InputFile, io: Io): void {
  io.stderr(`${plainText(input.file)}: ${result.kind} ${plainText(JSON.stringify(result.name))}\n`);
  const show = (value: unknown): string =>
    plainText(String(typeof value === 'number' ? Number(value.toPrecision(8)) : value));
  io.stderr(tableText(Object.entries(result.values).map(([key, value]) => [plainText(key), show(value)])));
  for (const d of result.differences) {
    io.stderr(
      `  differs from its parent: ${d.side === 'both' ? '' : `${d.side} `}${d.key} ${show(d.parentValue)} -> ${show(d.value)} ${d.unit}\n`,
    );
  }
  const facts = Object.entries(result.mesh ?? {}).filter(([, value]) => value !== null);
  if (facts.length > 0) io.stderr(tableText(facts.map(([key, value]) => [key, show(value)])));
  for (const { sentence } of warnings) io.stderr(`Note: ${plainText(sentence)}\n`);
}
