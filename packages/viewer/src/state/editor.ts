// Loaded lazily: reading and checking edits needs the expression parser and the schemas.
export {
  BENCH_LIMITS,
  checkTracings,
  InputError,
  lessonFiles,
  parseJson,
  readBack,
  readBench,
  readLesson,
} from '@barwright/geometry';

import {
  diffFromParent,
  diffPatterns,
  InputError,
  type InputErrorDetails,
  LAYER_LAWS,
  layerGivingBy,
  listPatternFields,
  type PatternDocument,
  readPattern,
  readSetup,
  resolvePattern,
  SETUP_DEFAULTS,
  type Setup,
  setPatternValue,
  setPatternValues,
} from '@barwright/geometry';
import type { PatternView } from './result-state.ts';
import { setAtPath } from './set-at-path.ts';

export type Edited<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly error: InputErrorDetails };

/** Runs something that may refuse its input. Anything else is a fault and goes up. */
export function attempt<T>(make: () => T): Edited<T> {
  try {
    return { ok: true, value: make() };
  } catch (error) {
    if (error instanceof InputError) return { ok: false, error: error.details };
    throw error;
  }
}

export const editPattern = (document: PatternDocument, key: string, value: string | number): Edited<PatternDocument> =>
  attempt(() => setPatternValue(document, key, value));

/** Several changes at once; only the outcome has to hold together. */
export const editPatternBy = (
  document: PatternDocument,
  changes: readonly (readonly [string, string | number])[],
): Edited<PatternDocument> => attempt(() => setPatternValues(document, changes));

export const checkPattern = (json: unknown, file?: string): Edited<PatternDocument> =>
  attempt(() => {
    const document = readPattern(json, file);
    resolvePattern(document);
    return document;
  });

export const changesBetween = diffPatterns;

let lastFields: { of: string; fields: PatternView['fields'] } = { of: '', fields: [] };

/** The same list for the same stations: what is drawn of a field stays as it is while values change. */
function fieldsOf({ stations }: PatternDocument): PatternView['fields'] {
  const of = JSON.stringify(stations);
  if (of !== lastFields.of) lastFields = { of, fields: listPatternFields(stations) };
  return lastFields.fields;
}

export function describePattern(document: PatternDocument): PatternView {
  const resolved = resolvePattern(document);
  return {
    fields: fieldsOf(document),
    values: resolved.values,
    leftValues: resolved.leftValues,
    written: document.values,
    leftWritten: document.leftValues,
    materials: resolved.materials,
    parentName: document.parent?.name ?? null,
    differences: diffFromParent(document),
    remarks: resolved.remarks,
  };
}

/** A setup with the value at a dotted path changed: `load.riderKg`, `layers.1.thicknessMm`, `legForward`. */
export function editSetup(setup: Setup, path: string, value: unknown): Edited<Setup> {
  return checkSetup(setOfSetup(setup, path, value));
}

/** What a layer gives by is one choice: a new one takes the place of the old. */
function setOfSetup(setup: unknown, path: string, value: unknown): unknown {
  const [, place, law] = /^layers\.([^.]+)\.(\w+)$/.exec(path) ?? [];
  const layer = (setup as Setup).layers.find(({ name }, i) => String(i) === place || name === place);
  const known = LAYER_LAWS.find((name) => name === law);
  if (layer === undefined || known === undefined) return setAtPath(setup, path, value);
  return setAtPath(setup, `layers.${place}`, layerGivingBy(layer, known, value));
}

/** The default setup with the values at dotted paths changed. */
export function editSetupBy(changes: readonly (readonly [string, unknown])[]): Edited<Setup> {
  const changed = changes.reduce<unknown>((setup, [path, value]) => setOfSetup(setup, path, value), SETUP_DEFAULTS);
  return checkSetup(changed);
}

export const checkSetup = (json: unknown, file?: string): Edited<Setup> => attempt(() => readSetup(json, file));

export const setupDefaults = (): Setup => SETUP_DEFAULTS;
