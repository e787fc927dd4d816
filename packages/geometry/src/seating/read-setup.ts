import * as z from 'zod';
import { InputError } from '../numeric/index.ts';
import { checkDocument } from '../pattern/index.ts';
import { type Setup, setupSchema } from './setup-schema.ts';
import { stackOf } from './stack-of.ts';

export const SETUP_SCHEMA = 'barwright/setup/1';

/** A setup document from parsed JSON, defaults filled in. Throws InputError as checkDocument does, and for unknown materials. */
export function readSetup(json: unknown, file?: string): Setup {
  const setup = checkDocument(setupSchema, json, { schemaName: SETUP_SCHEMA, ...(file === undefined ? {} : { file }) });
  try {
    stackOf(setup);
  } catch (error) {
    throw error instanceof InputError && file !== undefined ? error.inFile(file) : error;
  }
  return setup;
}

/** JSON Schema (draft 2020-12) of a setup document. */
export function setupJsonSchema(): unknown {
  return z.toJSONSchema(setupSchema, { io: 'input' });
}
