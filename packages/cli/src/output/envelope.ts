import { type InputFile, type InputRecord, recordOf } from '../files/input-file.ts';
import { CAUTIONS } from './cautions.ts';
import { PROGRAM } from './program-version.ts';

/** Units of every figure in a result; names carry them too. */
export const UNITS = Object.freeze({
  length: 'mm',
  area: 'cm2',
  force: 'N',
  moment: 'Nmm',
  pressure: 'kPa',
  angle: 'deg',
  stiffness: 'N/mm',
});

/** Something a person should know about the inputs or the outcome. */
export interface Warning {
  /** Where, or null where it concerns the whole. */
  readonly field: string | null;
  readonly sentence: string;
}

/** The one JSON document of a command (DESIGN 7). */
export interface Envelope<Result> {
  readonly schema: string;
  readonly program: { readonly name: string; readonly version: string };
  readonly units: typeof UNITS;
  readonly inputs: readonly InputRecord[];
  readonly result: Result;
  readonly warnings: readonly Warning[];
  readonly cautions: readonly string[];
}

export function envelope<Result>(
  schema: string,
  inputs: readonly (InputFile | null)[],
  result: Result,
  warnings: readonly Warning[],
): Envelope<Result> {
  const records = inputs.flatMap((input) => (input === null ? [] : [recordOf(input)]));
  return { schema, program: PROGRAM, units: UNITS, inputs: records, result, warnings, cautions: CAUTIONS };
}
