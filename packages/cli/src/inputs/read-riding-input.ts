import {
  InputError,
  JSON_LIMITS,
  nearNames,
  parseJson,
  RIDING_SETS,
  type Riding,
  readRiding,
} from '@barwright/geometry';
import { type InputFile, readInput } from '../files/input-file.ts';

/** A kind of riding, and the file it came from where it came from one. */
export interface RidingInput {
  readonly riding: Riding;
  readonly input: InputFile | null;
}

/** A kind of riding by its name, or from a file whose name ends in .json. Throws InputError. */
export async function readRidingInput(folder: string, said: string): Promise<RidingInput> {
  const set = RIDING_SETS.find(({ name }) => name.toLowerCase() === said.trim().toLowerCase());
  if (set !== undefined) return { riding: set, input: null };
  if (/\.json$/i.test(said)) {
    const input = await readInput(folder, said, 'riding', JSON_LIMITS.maxSize);
    return { riding: readRiding(parseJson(input.bytes, input.file), input.file), input };
  }
  const names = RIDING_SETS.map(({ name }) => name);
  const near = nearNames(said, names);
  throw new InputError({
    code: 'unknown-name',
    field: '--riding',
    got: JSON.stringify(said).slice(0, 60),
    expected: `one of ${names.map((name) => `"${name}"`).join(', ')}, or a *.riding.json file`,
    remedy: near.length > 0 ? `Did you mean ${near.join(', ')}?` : 'See barwright ride --riding list',
  });
}
