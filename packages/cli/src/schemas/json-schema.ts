/** A JSON Schema, as plain data. */
export type JsonSchema = Readonly<Record<string, unknown>>;

export const number: JsonSchema = { type: 'number' };
export const text: JsonSchema = { type: 'string' };
export const boolean: JsonSchema = { type: 'boolean' };

export const anyOf = (...schemas: readonly JsonSchema[]): JsonSchema => ({ anyOf: schemas });
export const nothing: JsonSchema = { type: 'null' };
export const orNull = (schema: JsonSchema): JsonSchema => anyOf(schema, nothing);
export const list = (items: JsonSchema, count?: number): JsonSchema => ({
  type: 'array',
  items,
  ...(count === undefined ? {} : { minItems: count, maxItems: count }),
});
export const oneOf = (...values: readonly (string | number)[]): JsonSchema => ({ enum: values });
export const about = (schema: JsonSchema, description: string): JsonSchema => ({ ...schema, description });

/** An object with exactly these fields, all of them present. */
export const fields = (properties: Readonly<Record<string, JsonSchema>>): JsonSchema => ({
  type: 'object',
  properties,
  required: Object.keys(properties),
  additionalProperties: false,
});

export const published = (name: string, schema: JsonSchema): JsonSchema => ({
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  title: name,
  ...schema,
});
