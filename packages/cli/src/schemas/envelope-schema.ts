import { UNITS } from '../output/envelope.ts';
import {
  about,
  anyOf,
  boolean,
  fields,
  type JsonSchema,
  list,
  nothing,
  number,
  oneOf,
  orNull,
  published,
  text,
} from './json-schema.ts';

const role = oneOf('pattern', 'back', 'setup', 'riding', 'rider', 'shelf', 'mesh', 'lesson', 'file');

/** A file as a result names it. */
export const inputRecordSchema: JsonSchema = fields({
  role,
  file: about(text, 'name without a folder'),
  sha256: { type: 'string', pattern: '^[0-9a-f]{64}$' },
});

/** What every command's document looks like around its result. */
export function envelopeSchema(
  name: string,
  result: JsonSchema,
  more: Readonly<Record<string, JsonSchema>> = {},
): JsonSchema {
  const units = fields(Object.fromEntries(Object.entries(UNITS).map(([key, unit]) => [key, { const: unit }])));
  return published(
    name,
    fields({
      schema: { const: name },
      program: fields({ name: { const: 'barwright' }, version: text }),
      units,
      inputs: list(inputRecordSchema),
      result,
      warnings: list(fields({ field: orNull(text), sentence: text })),
      cautions: { type: 'array', items: text, minItems: 1 },
      ...more,
    }),
  );
}

export const requirementsSchema: JsonSchema = list(
  fields({
    condition: text,
    name: text,
    operator: oneOf('<', '<=', '>', '>=', '=', '!='),
    limit: anyOf(number, text),
    value: anyOf(number, text, nothing),
    met: boolean,
  }),
);

const orNullText = orNull(text);

/** Fields of an error, in an error document and in a sweep's refused steps. */
export const errorFields: JsonSchema = fields({
  code: text,
  file: orNullText,
  field: orNullText,
  got: orNullText,
  expected: text,
  remedy: text,
});

export const numberOrNull: JsonSchema = orNull(number);
