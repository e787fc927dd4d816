import { readFileSync } from 'node:fs';
import {
  type BackDocument,
  type PatternDocument,
  parseJson,
  readBack,
  readPattern,
  type SectionsBackDocument,
} from '@barwright/geometry';

const read = (name: string): unknown =>
  parseJson(readFileSync(new URL(`../../examples/${name}`, import.meta.url)), name);

/** A pattern of examples/ by its file's stem. */
export const examplePattern = (stem: string): PatternDocument => readPattern(read(`${stem}.pattern.json`));

/** A back of examples/ by its file's stem. */
export const exampleBack = (stem: string): BackDocument => readBack(read(`${stem}.back.json`));

/** A demo horse without asymmetry and blade patch: the symmetric surface of the scenarios. */
export function symmetricBack(stem: string): SectionsBackDocument {
  const back = exampleBack(stem);
  if (back.kind !== 'sections') throw new Error(`${stem} is not given by sections`);
  const flat = { heightMm: 0 };
  return { ...back, asymmetry: { left: null, right: null }, bladeBulge: { left: flat, right: flat } };
}
