import { InputError, type InputErrorDetails, readRider, readShelf } from '@barwright/geometry';
import { demoPattern } from '../../files/demos.ts';
import { SIZING_TEXTS } from '../../look/texts/sizing.ts';
import { addOpened, type RiderJson } from './sizing-inputs.ts';
import type { OpenedShelf } from './sizing-service.ts';

interface OpenedJson {
  readonly fileName: string;
  readonly json: unknown;
}

/** Checks opened riders and shelves and hands the good ones to the sizing study; the pattern comes with the shelf or from the demos. */
export function takeOpened(
  riders: readonly OpenedJson[],
  shelves: readonly OpenedJson[],
  patterns: readonly OpenedJson[],
): { readonly taken: readonly string[]; readonly refused: readonly InputErrorDetails[] } {
  const taken: string[] = [];
  const refused: InputErrorDetails[] = [];
  const attempt = <T>(fileName: string, read: () => T): T[] => {
    try {
      const value = read();
      taken.push(fileName);
      return [value];
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      refused.push({ file: fileName, ...error.details });
      return [];
    }
  };
  const goodRiders = riders.flatMap(({ fileName, json }) =>
    attempt(fileName, () => {
      readRider(json, fileName);
      return json as RiderJson;
    }),
  );
  const goodShelves = shelves.flatMap(({ fileName, json }) =>
    attempt(fileName, (): OpenedShelf => {
      const { pattern } = readShelf(json, fileName);
      return { json, fileName, pattern: patternNamed(pattern, patterns, fileName) };
    }),
  );
  if (taken.length > 0) addOpened(goodRiders, goodShelves);
  return { taken, refused };
}

function patternNamed(name: string, patterns: readonly OpenedJson[], file: string): unknown {
  const found =
    patterns.find(({ fileName }) => fileName === name)?.json ?? demoPattern(name.replace(/\.pattern\.json$/, ''));
  if (found !== undefined) return found;
  throw new InputError({
    code: 'missing',
    file,
    field: 'pattern',
    got: name.slice(0, 60),
    expected: SIZING_TEXTS.shelf.missing,
    remedy: SIZING_TEXTS.shelf.openBoth(file, name),
  });
}
