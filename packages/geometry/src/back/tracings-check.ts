import { InputError } from '../numeric/index.ts';
import {
  type CrossCurve,
  crossCurves,
  type LengthwiseCurve,
  lengthwiseCurves,
  midlineOf,
  settleUnit,
  type TracingUnit,
} from './tracings-curves.ts';
import { refuseFarHeights, refuseGiantStations } from './tracings-extent.ts';
import { settleHeights } from './tracings-lengthwise.ts';
import { createAnswerSheet, type TracingQuestion } from './tracings-questions.ts';
import type { TracingsBackDocument } from './tracings-schema.ts';
import { settleSides } from './tracings-sides.ts';
import { gatherStations, type TracedStation } from './tracings-stations.ts';

export interface PreparedTracings {
  readonly unit: TracingUnit;
  /** Rising x, in the tracings' frame (mm, x to the tail, y right, z up). */
  readonly stations: readonly TracedStation[];
  readonly lengthwise: readonly LengthwiseCurve[];
  readonly questions: readonly TracingQuestion[];
  readonly warnings: readonly string[];
}

/**
 * Contradictions and gaps in a set of tracings, as questions. Those that the document's `answers` settle don't come back;
 * settling the unit may bring up others.
 * @throws InputError for tracings that can't be read as sections at all, and answers that are none of the choices
 */
export function checkTracings(doc: TracingsBackDocument): readonly TracingQuestion[] {
  return prepareTracings(doc).questions;
}

/** Sections and lengthwise curves as answered, with the questions still open (settled as labelled meanwhile). */
export function prepareTracings(doc: TracingsBackDocument): PreparedTracings {
  refuseSameIds(doc);
  const sheet = createAnswerSheet(doc.answers ?? {});
  const warnings: string[] = [];
  const unit = settleUnit(doc, sheet);
  const nothing = { unit, stations: [], lengthwise: [], warnings };
  if (sheet.open.length > 0) return { ...nothing, questions: sheet.open };
  const curves: CrossCurve[] = crossCurves(doc, unit, sheet, warnings);
  const lengthwise = lengthwiseCurves(doc, unit);
  const gathered = gatherStations(curves, sheet, warnings);
  refuseGiantStations(gathered);
  const sided = settleSides(gathered, midlineOf(doc, unit), sheet);
  refuseFarHeights(gathered, lengthwise);
  const stations = settleHeights(sided, lengthwise, sheet);
  const unused = sheet.unused();
  if (unused.length > 0) {
    warnings.push(`Answers to questions that do not arise: ${unused.slice(0, 4).join(', ')}.`);
  }
  return { unit, stations, lengthwise, questions: sheet.open, warnings };
}

function refuseSameIds(doc: TracingsBackDocument): void {
  const seen = new Set<string>();
  doc.curves.forEach((curve, i) => {
    if (!seen.has(curve.id)) {
      seen.add(curve.id);
      return;
    }
    throw new InputError({
      code: 'inconsistent',
      field: `curves.${i}.id`,
      got: curve.id,
      expected: 'a name for each curve of its own',
      remedy: 'Rename one of the two curves.',
    });
  });
}
