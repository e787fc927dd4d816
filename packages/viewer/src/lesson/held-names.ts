import type { PatternField } from '@barwright/geometry';
import { TEXTS } from '../look/texts.ts';

const SETUP = 'setup.';
const SETUP_NAMES: Readonly<Record<string, string>> = TEXTS.lesson.setupNames;

/** Names of held values as the card writes them, each once; a value without a name of its own keeps its key. */
export function heldNames(keys: readonly string[], fields: readonly PatternField[]): string[] {
  const names = keys.map((key) => {
    if (key.startsWith(SETUP)) return SETUP_NAMES[key.slice(SETUP.length)] ?? key.slice(SETUP.length);
    return fields.find((field) => field.key === key)?.label ?? key;
  });
  return [...new Set(names)];
}
