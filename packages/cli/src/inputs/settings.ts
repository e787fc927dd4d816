import { InputError, type PatternDocument, type PatternValue, type Setup, setPatternValues } from '@barwright/geometry';
import { SETUP_PREFIX, setSetupValues } from './set-setup.ts';

export type Change = readonly [key: string, value: PatternValue];

/** Documents of a fit with changes made to them. */
export interface Changed {
  readonly pattern: PatternDocument;
  readonly setup: Setup;
}

/** `key=value` split at the first equals sign. Throws InputError 'usage'. */
export function readChange(text: string): Change {
  const at = text.indexOf('=');
  const key = text.slice(0, at).trim();
  const value = text.slice(at + 1).trim();
  if (at > 0 && key !== '' && value !== '') return [key, value];
  throw new InputError({
    code: 'usage',
    field: '--set',
    got: JSON.stringify(text).slice(0, 60),
    expected: 'a key, an equals sign and a value',
    remedy: 'Write for example --set length=560 or --set "length=22 1/4 in"',
  });
}

/** All changes at once, each to the document its key belongs to; only the outcome has to hold together. */
export function applyChanges({ pattern, setup }: Changed, changes: readonly Change[]): Changed {
  const isSetup = ([key]: Change): boolean => key.startsWith(SETUP_PREFIX);
  const ofPattern = changes.filter((change) => !isSetup(change));
  const ofSetup = changes.filter(isSetup).map(([key, value]): Change => [key.slice(SETUP_PREFIX.length), value]);
  return {
    pattern: ofPattern.length === 0 ? pattern : setPatternValues(pattern, ofPattern),
    setup: ofSetup.length === 0 ? setup : setSetupValues(setup, ofSetup),
  };
}
