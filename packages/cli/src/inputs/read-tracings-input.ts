import {
  buildBack,
  checkTracings,
  InputError,
  parseJson,
  readBack,
  readTracingsCsv,
  readTracingsSvg,
  type TracingsBackDocument,
} from '@barwright/geometry';
import type { BackFlags, Prepared } from '../commands/back.ts';
import { type InputFile, looksLikeJson } from '../files/input-file.ts';
import { readLandmarks, readMeasured, readRecord } from './back-flags.ts';

/**
 * Tracings as a document, with their open questions. A CSV file says no unit: it has to be given. Questions are never
 * accepted wholesale: each is answered by itself.
 */
export function readTracingsInput(input: InputFile, flags: BackFlags, today: string): Prepared {
  const { document: read, warnings, open } = readAny(input, flags, today);
  const document = withFlags(read, flags);
  const questions = checkTracings(document);
  const blocking = questions.filter((question) => question.blocking).map(({ id }) => `answers.${id}`);
  const accepted = flags.acceptProposals === true ? open.filter((part) => part !== 'measured.on') : open;
  const toConfirm = [...accepted, ...blocking];
  const result = { kind: 'tracings' as const, proposal: null, cleaning: [], questions, toConfirm };
  if (toConfirm.length > 0) return { result, document: null, beside: null, warnings };
  return { result, document, beside: null, warnings: [...warnings, ...buildBack(document).warnings] };
}

interface AnyTracings {
  readonly document: TracingsBackDocument;
  readonly warnings: readonly string[];
  /** What the file does not say. */
  readonly open: readonly string[];
}

function readAny(input: InputFile, flags: BackFlags, today: string): AnyTracings {
  if (looksLikeJson(input)) return { document: tracingsOf(input), warnings: [], open: [] };
  const { measured, isDateOpen } = readMeasured(flags, today);
  const landmarks = readLandmarks(flags.landmark ?? []);
  const name = flags.name ?? input.file.replace(/\.[^.]*$/, '');
  const marks = Object.keys(landmarks).length === 0 ? {} : { landmarks: mutable(landmarks) };
  const dateOpen = isDateOpen ? ['measured.on'] : [];
  if (/\.svg$/i.test(input.file)) {
    return { ...readTracingsSvg(input.bytes, input.file, { name, measured, ...marks }), open: dateOpen };
  }
  const { tail, right, up } = flags;
  const axes = tail && right && up ? { axes: { tail, right, up } } : {};
  if (!(tail && right && up) && (tail ?? right ?? up) !== undefined) throw partAxes();
  const unit = flags.unit ?? 'mm';
  const open = [...(flags.unit === undefined ? ['unit'] : []), ...dateOpen];
  return { ...readTracingsCsv(input.bytes, input.file, { name, unit, measured, ...axes, ...marks }), open };
}

const mutable = (landmarks: object): NonNullable<TracingsBackDocument['landmarks']> =>
  structuredClone(landmarks) as NonNullable<TracingsBackDocument['landmarks']>;

function tracingsOf(input: InputFile): TracingsBackDocument {
  const document = readBack(parseJson(input.bytes, input.file), input.file);
  if (document.kind === 'tracings') return document;
  throw new InputError({
    code: 'wrong-type',
    field: 'kind',
    got: document.kind,
    expected: 'tracings, or a scan as a mesh file',
    remedy: 'This document is ready: use it as it is',
  });
}

function withFlags(document: TracingsBackDocument, flags: BackFlags): TracingsBackDocument {
  const answers = Object.fromEntries((flags.answer ?? []).map(readAnswer));
  const record = readRecord(flags);
  return {
    ...document,
    ...(flags.name === undefined ? {} : { name: flags.name }),
    ...(flags.answer === undefined ? {} : { answers: { ...document.answers, ...answers } }),
    ...(record === null ? {} : { record }),
  };
}

function readAnswer(text: string): [string, string] {
  const at = text.lastIndexOf('=');
  if (at > 0 && at < text.length - 1) return [text.slice(0, at).trim(), text.slice(at + 1).trim()];
  throw new InputError({
    code: 'usage',
    field: '--answer',
    got: JSON.stringify(text).slice(0, 60),
    expected: 'question=choice',
    remedy: 'Copy the name of the question and one of its choices from the result',
  });
}

function partAxes(): InputError {
  return new InputError({
    code: 'usage',
    field: '--tail',
    expected: '--tail, --right and --up together, or none of them',
    remedy: 'Tracings of three numbers are read as x to the tail, y to the right, z up otherwise',
  });
}
