import type * as z from 'zod';
import { InputError, type InputErrorCode, type InputErrorDetails, showGot } from '../numeric/input-error.ts';

/** Names that reach an object's prototype. */
const FORBIDDEN_KEYS: ReadonlySet<string> = new Set(['__proto__', 'constructor', 'prototype']);
const MAX_DEPTH = 64;

/**
 * Checks a parsed JSON value against a document's schema and returns it typed, with defaults filled in.
 * `schemaName` is the name with its version, such as barwright/pattern/1.
 * Throws InputError: wrong-type, missing, unknown-field, unknown-schema, forbidden, not-a-number, out-of-range, empty, too-long,
 * too-large.
 */
export function checkDocument<Schema extends z.ZodType>(
  schema: Schema,
  json: unknown,
  options: { schemaName: string; file?: string },
): z.infer<Schema> {
  const { schemaName, file } = options;
  const refuse = (details: InputErrorDetails): InputError => {
    const error = new InputError(details);
    return file === undefined ? error : error.inFile(file);
  };
  if (typeof json !== 'object' || json === null || Array.isArray(json)) {
    throw refuse({
      code: 'wrong-type',
      got: Array.isArray(json) ? 'a list' : showGot(json),
      expected: `one object with "schema": "${schemaName}"`,
      remedy: 'Open a document that was saved by this program',
    });
  }
  const hostile = findHostile(json, [], 0);
  if (hostile !== null) throw refuse(hostile);
  const wrongSchema = checkSchemaName(json, schemaName);
  if (wrongSchema !== null) throw refuse(wrongSchema);
  const result = schema.safeParse(json);
  if (!result.success) throw refuse(describeIssue(result.error.issues[0]!, json));
  return result.data;
}

function findHostile(value: unknown, path: readonly string[], depth: number): InputErrorDetails | null {
  const field = path.join('.');
  if (typeof value === 'number' && !Number.isFinite(value)) {
    return {
      code: 'not-a-number',
      field,
      got: String(value),
      expected: 'a finite number',
      remedy: 'Give a number that can be measured',
    };
  }
  if (typeof value !== 'object' || value === null) return null;
  if (depth >= MAX_DEPTH) {
    return {
      code: 'too-large',
      field: path.slice(0, 4).join('.'),
      expected: `at most ${MAX_DEPTH} levels`,
      remedy: 'Flatten the document',
    };
  }
  for (const key of Object.keys(value)) {
    if (FORBIDDEN_KEYS.has(key)) {
      return {
        code: 'forbidden',
        field: [...path, key].join('.'),
        expected: 'names without a meaning inside the program',
        remedy: 'Remove this field',
      };
    }
    const found = findHostile((value as Record<string, unknown>)[key], [...path, shorten(key)], depth + 1);
    if (found !== null) return found;
  }
  return null;
}

function checkSchemaName(json: object, schemaName: string): InputErrorDetails | null {
  const found: unknown = Object.hasOwn(json, 'schema') ? (json as { schema: unknown }).schema : undefined;
  if (found === schemaName) return null;
  const expected = `"${schemaName}"`;
  if (found === undefined) {
    return { code: 'missing', field: 'schema', expected, remedy: `Add "schema": "${schemaName}"` };
  }
  const [stem, version] = splitVersion(schemaName);
  const [foundStem, foundVersion] = typeof found === 'string' ? splitVersion(found) : ['', Number.NaN];
  const newer = foundStem === stem && foundVersion > version;
  return {
    code: 'unknown-schema',
    field: 'schema',
    got: showGot(found),
    expected,
    remedy: newer
      ? 'It was made by a newer version; use that one'
      : `This place takes a ${stem.split('/').pop()} document`,
  };
}

function splitVersion(name: string): [string, number] {
  const cut = name.lastIndexOf('/');
  return [name.slice(0, cut), Number(name.slice(cut + 1))];
}

function describeIssue(issue: z.core.$ZodIssue, json: object): InputErrorDetails {
  const field = issue.path.map((part) => shorten(String(part))).join('.');
  if (issue.code === 'unrecognized_keys') {
    const key = shorten(issue.keys[0] ?? '');
    return {
      code: 'unknown-field',
      field: field === '' ? key : `${field}.${key}`,
      expected: 'only the fields of this document',
      remedy: 'Check the spelling, or remove it',
    };
  }
  const got = valueAt(json, issue.path);
  const said = { field, expected: issue.message, remedy: 'Change this field' };
  if (got === undefined) return { code: 'missing', ...said, remedy: 'Add this field' };
  return {
    code: codeOf(issue, got),
    ...said,
    got: showGot(typeof got === 'object' ? (JSON.stringify(got) ?? '').slice(0, 60) : got),
  };
}

function codeOf(issue: z.core.$ZodIssue, got: unknown): InputErrorCode {
  if (issue.code === 'too_big') return typeof got === 'string' ? 'too-long' : 'out-of-range';
  if (issue.code === 'too_small') return typeof got === 'string' ? 'empty' : 'out-of-range';
  return 'wrong-type';
}

function valueAt(json: unknown, path: readonly PropertyKey[]): unknown {
  let value = json;
  for (const part of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, part)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[part];
  }
  return value;
}

function shorten(key: string): string {
  return key.length > 60 ? `${key.slice(0, 57)}...` : key;
}
