/** Why an input was refused. A closed list, so that callers can switch on it. */
export type InputErrorCode =
  | 'not-a-number'
  | 'out-of-range'
  | 'wrong-unit'
  | 'ambiguous'
  | 'unknown-name'
  | 'cycle'
  | 'forbidden'
  | 'too-long'
  | 'syntax'
  | 'wrong-type'
  | 'missing'
  | 'unknown-field'
  | 'unknown-schema'
  | 'duplicate-key'
  | 'truncated'
  | 'malformed'
  | 'unsupported'
  | 'too-large'
  | 'empty'
  | 'degenerate'
  | 'inconsistent'
  | 'path'
  | 'usage';

export interface InputErrorDetails {
  code: InputErrorCode;
  /** Name of the file, without any folder, when one is involved. */
  file?: string;
  /** Dotted path of the field, or the place in the file ("line 12", "byte 84"). */
  field?: string;
  /** What was found, shortened for display. */
  got?: string;
  expected: string;
  remedy: string;
}

/** Bad input, said so that a person can mend it. Thrown at the boundary, never from inside a solver. */
export class InputError extends Error {
  readonly details: InputErrorDetails;

  constructor(details: InputErrorDetails) {
    super(describe(details));
    this.name = 'InputError';
    this.details = details;
  }

  get code(): InputErrorCode {
    return this.details.code;
  }

  /** The same error with the file's name filled in. */
  inFile(file: string): InputError {
    return new InputError({ ...this.details, file });
  }
}

/** Shortens any value for an error text: at most 60 characters, control characters shown as escapes. */
export function showGot(value: unknown): string {
  const text = typeof value === 'string' ? JSON.stringify(value) : String(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

function describe(d: InputErrorDetails): string {
  const place = [d.file, d.field].filter((part) => part !== undefined).join(': ');
  const got = d.got === undefined ? '' : ` (got ${d.got})`;
  return `${place === '' ? '' : `${place}: `}expected ${d.expected}${got}. ${d.remedy}`;
}
