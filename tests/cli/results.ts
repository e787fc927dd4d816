import Ajv2020 from 'ajv/dist/2020.js';
import type { Workshop } from './run-command.ts';

/** Words that no result says of a tree on a horse. */
export const NO_VERDICT = /\b(safe|unsafe|safely|allowed|permitted|ok|okay|pass|passed|fail|failed|fails)\b/i;

/** What a value is after it was printed and read again. */
export const asJson = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

/** What the published schema of this name has against a document; null for nothing. */
export async function schemaErrors(shop: Workshop, name: string, document: unknown): Promise<unknown> {
  const schema = JSON.parse((await shop.run(['schema', name])).stdout);
  const validate = new Ajv2020({ strict: true, strictRequired: false, strictTuples: false }).compile(schema);
  validate(document);
  return validate.errors ?? null;
}
