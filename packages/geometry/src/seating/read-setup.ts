import * as z from 'zod';
import { checkDocument } from '../pattern/index.ts';
import { type Setup, setupSchema } from './setup-schema.ts';

export const SETUP_SCHEMA = 'barwright/setup/1';

/** A setup document from parsed JSON, defaults filled in. Throws InputError as checkDocument does. */
export function readSetup(json: unknown, file?: string): Setup {
  return checkDocument(setupSchema, json, { schemaName: SETUP_SCHEMA, ...(file === undefined ? {} : { file }) });
}

/** JSON Schema (draft 2020-12) of a setup document. */
export function setupJsonSchema(): unknown {
  return z.toJSONSchema(setupSchema, { io: 'input' });
}
