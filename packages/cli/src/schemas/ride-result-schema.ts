import { ridingJsonSchema } from '@barwright/geometry';
import type { RideCaseResult, RideFinding, RideResult } from '../commands/ride.ts';
import { contactSchema, loadSchema, poseSchema, reactionsSchema, statusSchema } from './fit-result-schema.ts';
import { about, fields, type JsonSchema, list, number, oneOf, text } from './json-schema.ts';

type Fields<Of> = Record<keyof Of, JsonSchema>;
type Json = Readonly<Record<string, unknown>>;

/** A riding as a document of its own, without the name of the schema language within another schema. */
function ridingSchemaPart(): JsonSchema {
  const { $schema: _, ...rest } = ridingJsonSchema() as Json;
  return rest;
}

function caseSchemaPart(): JsonSchema {
  const { properties } = ridingSchemaPart() as { properties: { cases: { items: JsonSchema } } };
  return properties.cases.items;
}

const finding: Fields<RideFinding> = {
  code: text,
  side: oneOf('left', 'right', 'both'),
  fromMm: about(number, 'mm behind the blade edge'),
  toMm: number,
  sizeMm: number,
  sentence: text,
};

const one: Fields<RideCaseResult> = {
  case: caseSchemaPart(),
  status: statusSchema,
  pose: poseSchema,
  load: loadSchema,
  reactions: about(reactionsSchema, 'what has to hold the tree in its place'),
  contact: contactSchema,
  findings: list(fields(finding)),
  excludedFraction: number,
};

const result: Fields<RideResult> = { riding: text, cases: list(fields(one)) };

export const rideResultSchema: JsonSchema = fields(result);
export const ridingSetsSchema: JsonSchema = fields({ sets: list(ridingSchemaPart()) });
