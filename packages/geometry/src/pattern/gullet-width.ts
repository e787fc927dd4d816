import { InputError } from '../numeric/input-error.ts';
import { monotoneCubic } from '../numeric/monotone-cubic.ts';
import { AMBIGUOUS_MEASURES, ambiguousMeasureError } from '../units/index.ts';
import { evaluateValues, type ResolvedValue } from './evaluate-values.ts';
import { type PatternField, type StationPlace, stationKey } from './list-fields.ts';
import type { FieldSpec } from './pattern-fields.ts';
import type { PatternDocument, PatternValue } from './pattern-schema.ts';
import { GULLET_WIDTH } from './read-pattern.ts';

export const GULLET_WIDTH_FIELD: FieldSpec = {
  key: GULLET_WIDTH,
  label: 'Gullet width',
  kind: 'length',
  unit: 'mm',
  min: 40,
  max: 320,
  default: 162,
  group: 'seat and fork',
  help: 'Means nothing without the place where it was taken. 150-180 mm.',
  perSide: false,
};

/** Answers that say where the bars' inner edges are; the others stay notes. */
const GEOMETRIC_ANSWERS: ReadonlySet<string> = new Set(['at fork front', 'at hand hole']);

/** The spread that a gullet width stands for: the one of the foremost station, or null when it is only a note. */
export function spreadDrivenByGullet(document: PatternDocument): string | null {
  if (!Object.hasOwn(document.values, GULLET_WIDTH)) return null;
  return GEOMETRIC_ANSWERS.has(document.answers[GULLET_WIDTH] ?? '') ? foremostSpread(document.stations) : null;
}

export function foremostSpread(stations: readonly StationPlace[]): string {
  const first = [...stations].sort((a, b) => a.atPercent - b.atPercent)[0]!;
  return stationKey('spread', first.name);
}

/**
 * Evaluates a side of a document that carries a gullet width: the foremost spread is set so that the inner edges are
 * that far apart where the width was taken. Ahead of the foremost station the spread is constant, so "at fork front" is
 * that station's own. Throws InputError: ambiguous without an answer, inconsistent beside a written foremost spread.
 */
export function evaluateWithGullet(
  document: PatternDocument,
  fields: readonly PatternField[],
  written: Readonly<Record<string, PatternValue>>,
  place: string,
): Map<string, ResolvedValue> {
  const all = [...fields, GULLET_WIDTH_FIELD];
  const answer = document.answers[GULLET_WIDTH];
  if (answer === undefined) {
    const question = AMBIGUOUS_MEASURES.find((item) => item.measure === GULLET_WIDTH)!;
    throw ambiguousMeasureError(question, { field: `${place}.${GULLET_WIDTH}` });
  }
  const driven = spreadDrivenByGullet(document);
  if (driven === null) return evaluateValues(all, written, place);
  if (Object.hasOwn(written, driven)) throw saidTwice(driven, place);
  if (answer === 'at fork front') return evaluateValues(all, { ...written, [driven]: GULLET_WIDTH }, place);
  return solveAtHandHole(document.stations, all, written, driven, place);
}

function solveAtHandHole(
  stations: readonly StationPlace[],
  fields: readonly FieldSpec[],
  written: Readonly<Record<string, PatternValue>>,
  driven: string,
  place: string,
): Map<string, ResolvedValue> {
  const sorted = [...stations].sort((a, b) => a.atPercent - b.atPercent);
  const trial = (spreadMm: number) => {
    const values = evaluateValues(fields, { ...written, [driven]: spreadMm }, place);
    const lengthMm = values.get('length') as number;
    const at = sorted.map((station) => (station.atPercent / 100) * lengthMm);
    const spreads = sorted.map((station) => values.get(stationKey('spread', station.name)) as number);
    const there = monotoneCubic(at, spreads).at(values.get('handHole') as number)[0];
    return { values, missMm: there - (values.get(GULLET_WIDTH) as number) };
  };
  const range = fields.find((field) => field.key === driven)!;
  let [low, high] = [range.min, range.max];
  if (trial(low).missMm > 0 || trial(high).missMm < 0) throw unreachable(driven, place);
  // 60 halvings of some 280 mm reach the last digit.
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (trial(middle).missMm > 0) high = middle;
    else low = middle;
  }
  return trial((low + high) / 2).values;
}

function saidTwice(driven: string, place: string): InputError {
  return new InputError({
    code: 'inconsistent',
    field: `${place}.${driven}`,
    expected: `either ${driven} or a gullet width with its place`,
    remedy: `Remove ${driven} or ${GULLET_WIDTH}: both say how far apart the bars are in front`,
  });
}

function unreachable(driven: string, place: string): InputError {
  return new InputError({
    code: 'inconsistent',
    field: `${place}.${GULLET_WIDTH}`,
    expected: `a width at the hand hole that some ${driven} gives`,
    remedy:
      'The hand hole lies too far behind the foremost station, or the other spreads rule it out: set the spreads instead',
  });
}
