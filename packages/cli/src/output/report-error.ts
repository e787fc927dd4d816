import type { InputErrorDetails } from '@barwright/geometry';
import type { Io } from '../io.ts';
import { plainText } from './plain-text.ts';
import { printDocument } from './print-document.ts';

export const ERROR_SCHEMA = 'barwright/error/1';

/** A command line that can't be read. The same details as any bad input, said before the geometry is loaded. */
export class UsageError extends Error {
  readonly details: InputErrorDetails;

  constructor(details: Omit<InputErrorDetails, 'code'>) {
    super(`${details.field ?? 'barwright'}: ${details.got ?? `expected ${details.expected}`}. ${details.remedy}.`);
    this.name = 'InputError';
    this.details = { code: 'usage', ...details };
  }
}

/** Known by its shape, so that an error costs no loading of the geometry. */
function inputDetails(error: unknown): InputErrorDetails | null {
  if (!(error instanceof Error) || error.name !== 'InputError' || !('details' in error)) return null;
  return error.details as InputErrorDetails;
}

const endSentence = (text: string): string => (/[.?!]$/.test(text) ? text : `${text}.`);

/** The error document on stdout, the sentence on stderr, and the exit code. */
export function reportError(error: unknown, io: Io): 2 | 3 {
  const details = inputDetails(error);
  if (details !== null) {
    const { code, file = null, field = null, got = null, expected, remedy } = details;
    printDocument({ schema: ERROR_SCHEMA, error: { code, file, field, got, expected, remedy } }, io);
    io.stderr(`${endSentence(plainText((error as Error).message))}\n`);
    return 2;
  }
  const got = error instanceof Error ? error.message : String(error);
  const remedy = 'This is a mistake in the program: please report it with the files and the command';
  const internal = { code: 'internal', file: null, field: null, got, expected: 'no internal error', remedy };
  printDocument({ schema: ERROR_SCHEMA, error: internal }, io);
  io.stderr(`Internal error: ${plainText(got)}. ${remedy}.\n`);
  if (error instanceof Error && error.stack !== undefined) io.stderr(`${plainText(error.stack, '\n')}\n`);
  return 3;
}
