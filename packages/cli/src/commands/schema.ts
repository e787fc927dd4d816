import { InputError, nearNames } from '@barwright/geometry';
import type { Io } from '../io.ts';
import { printDocument } from '../output/print-document.ts';
import { SCHEMAS } from '../schemas/all-schemas.ts';

/** `barwright schema`: the schema itself is the one document on stdout. */
export async function schema(name: string, io: Io): Promise<0> {
  const build = Object.hasOwn(SCHEMAS, name) ? SCHEMAS[name] : undefined;
  if (build === undefined) {
    const names = Object.keys(SCHEMAS);
    const near = nearNames(name, names);
    throw new InputError({
      code: 'unknown-name',
      field: 'name',
      got: JSON.stringify(name).slice(0, 60),
      expected: `one of ${names.join(', ')}`,
      remedy: near.length > 0 ? `Did you mean ${near.join(', ')}?` : 'Choose one of them',
    });
  }
  printDocument(build(), io);
  return 0;
}
