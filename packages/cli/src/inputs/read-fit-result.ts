import type { FitResult } from '@barwright/geometry';
import { InputError } from '@barwright/geometry';
import type { InputRecord } from '../files/input-file.ts';
import { COMPARED_FIGURES } from '../output/compare-figures.ts';
import type { ComparableFile } from './compare-files.ts';

type Json = Readonly<Record<string, unknown>>;

const STATUSES: readonly string[] = ['settled', 'no contact', 'off the data', 'iteration limit'];

/** A result of `fit` that was kept in a file: what a comparison reads of it is checked. Throws InputError 'malformed'. */
export function readFitResult({ json, input }: ComparableFile): { result: FitResult; inputs: InputRecord[] } {
  const wrong = (field: string, expected: string): InputError =>
    new InputError({
      code: 'malformed',
      file: input.file,
      field,
      expected,
      remedy: 'Make the result again with barwright fit --out',
    });
  const { result } = json;
  if (!isObject(result)) throw wrong('result', 'the result of a fit');
  const isNumber = (value: unknown): boolean => value === null || (typeof value === 'number' && Number.isFinite(value));
  for (const { name } of COMPARED_FIGURES) {
    if (!isNumber(valueAt(result, name))) throw wrong(`result.${name}`, 'a number or null');
  }
  if (!STATUSES.includes(result.status as string)) throw wrong('result.status', `one of ${STATUSES.join(', ')}`);
  if (!isNumber(valueAt(result, 'load.appliedN'))) throw wrong('result.load.appliedN', 'a number');
  const { findings } = result;
  if (!Array.isArray(findings) || !findings.every(isFinding)) throw wrong('result.findings', 'a list of findings');
  const inputs = Array.isArray(json.inputs) ? json.inputs : [];
  if (inputs.length === 0 || !inputs.every(isRecord)) throw wrong('inputs', 'the files that the fit read');
  return { result: result as unknown as FitResult, inputs: inputs as InputRecord[] };
}

const isObject = (value: unknown): value is Json =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const isFinding = (value: unknown): boolean =>
  isObject(value) &&
  typeof value.code === 'string' &&
  /^[a-z-]{1,40}$/.test(value.code) &&
  ['left', 'right', 'both'].includes(value.side as string) &&
  typeof value.sizeMm === 'number' &&
  typeof value.withinMeasuringError === 'boolean';

const isRecord = (value: unknown): boolean =>
  isObject(value) && [value.role, value.file, value.sha256].every((part) => typeof part === 'string');

/** The value at a dotted path, undefined where there is none. */
export function valueAt(value: unknown, path: string): unknown {
  let at = value;
  for (const part of path.split('.')) at = isObject(at) && Object.hasOwn(at, part) ? at[part] : undefined;
  return at;
}
