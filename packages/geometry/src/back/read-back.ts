import * as z from 'zod';
import { InputError, showGot } from '../numeric/index.ts';
import { checkDocument } from '../pattern/index.ts';
import { type ScanBackDocument, scanBackSchema } from './scan-schema.ts';
import { type SectionsBackDocument, sectionsBackSchema } from './sections-schema.ts';
import { type TracingsBackDocument, tracingsBackSchema } from './tracings-schema.ts';

export type BackDocument = SectionsBackDocument | ScanBackDocument | TracingsBackDocument;

export const BACK_SCHEMA = 'barwright/back/1';

/** A back document from parsed JSON. Throws InputError: all that checkDocument throws, and unsupported kinds. */
export function readBack(json: unknown, file?: string): BackDocument {
  const options = { schemaName: BACK_SCHEMA, ...(file === undefined ? {} : { file }) };
  const kind = typeof json === 'object' && json !== null && 'kind' in json ? json.kind : undefined;
  if (kind === 'scan') return checkDocument(scanBackSchema, json, options);
  if (kind === 'sections') return checkDocument(sectionsBackSchema, json, options);
  if (kind === 'tracings') return checkDocument(tracingsBackSchema, json, options);
  checkDocument(z.looseObject({ schema: z.literal(BACK_SCHEMA), kind: z.string() }), json, options);
  const error = new InputError({
    code: 'unsupported',
    field: 'kind',
    got: showGot(kind),
    expected: '"sections", "scan" or "tracings"',
    remedy: 'Change this field to the kind of back that the document holds.',
  });
  throw file === undefined ? error : error.inFile(file);
}

/** JSON Schema (draft 2020-12) of a back document. */
export function backJsonSchema(): unknown {
  return z.toJSONSchema(z.discriminatedUnion('kind', [sectionsBackSchema, scanBackSchema, tracingsBackSchema]), {
    io: 'input',
  });
}
