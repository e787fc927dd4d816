import * as z from 'zod';

export const PATTERN_SCHEMA = 'barwright/pattern/1';

const valueSchema = z
  .union([z.number(), z.string().min(1).max(200)])
  .describe('A number in the unit of the value, a shop number such as "22 1/4 in", or an expression over other values');

const valuesSchema = z.record(z.string().regex(/^[a-z][a-zA-Z0-9]{0,63}$/), valueSchema);

const stationSchema = z.strictObject({
  name: z
    .string()
    .regex(/^[a-z][a-zA-Z0-9]{0,23}$/)
    .describe('Ends the names of the values given at this station: front gives slopeFront'),
  atPercent: z.number().min(0).max(100).describe('% of overall length from the front tip edge'),
});

const stationsSchema = z.array(stationSchema).min(1).max(40);

const parentSchema = z.strictObject({
  name: z.string().max(120),
  values: valuesSchema,
  stations: stationsSchema.optional(),
  leftValues: valuesSchema.optional(),
});

/** A bar pattern as it is stored. Names of values are checked after this, against the stations. */
export const patternSchema = z.strictObject({
  schema: z.literal(PATTERN_SCHEMA),
  name: z.string().min(1).max(120),
  parent: parentSchema.nullable().default(null).describe('The pattern this one was altered from, as it was then'),
  notes: z.string().max(8000).default(''),
  stations: stationsSchema,
  values: valuesSchema,
  leftValues: valuesSchema
    .default({})
    .describe('Values of the left bar where it differs; otherwise it mirrors the right'),
  answers: z
    .record(z.string().max(60), z.string().max(60))
    .default({})
    .describe('What an ambiguous measure meant, such as gulletWidth: at hand hole'),
  materials: z.record(z.string().regex(/^[a-z][a-zA-Z0-9]{0,23}$/), z.string().max(80)).default({}),
});

export type PatternDocument = z.infer<typeof patternSchema>;
export type PatternValue = number | string;

/** The published JSON Schema (draft 2020-12) of what a pattern file may hold. */
export function patternJsonSchema(): Record<string, unknown> {
  return z.toJSONSchema(patternSchema, { io: 'input' }) as Record<string, unknown>;
}
