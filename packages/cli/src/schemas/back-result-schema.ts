import { CLEAN_STEPS, LANDMARK_NAMES } from '@barwright/geometry';
import { anyOf, boolean, fields, type JsonSchema, list, nothing, number, oneOf, orNull, text } from './json-schema.ts';

const point = list(number, 3);
const axis = oneOf('+x', '-x', '+y', '-y', '+z', '-z');
const unit = oneOf('mm', 'cm', 'm', 'in');

/** One part of what is proposed, with its other readings. */
const proposalOf = (value: JsonSchema): JsonSchema =>
  fields({
    value,
    alternatives: list(fields({ value, score: number, reason: text })),
    reason: text,
    confidence: oneOf('clear', 'likely', 'unsure'),
    given: boolean,
  });

const midplane = fields({
  pointInFile: point,
  normalInFile: point,
  residualMm: number,
  overlap: number,
  leanDeg: number,
});

const question = fields({
  id: text,
  question: text,
  choices: list(fields({ id: text, meaning: text })),
  evidence: text,
  blocking: boolean,
  takesNumberMm: boolean,
});

const proposal = fields({
  unit: proposalOf(unit),
  up: proposalOf(axis),
  tail: proposalOf(axis),
  right: proposalOf(axis),
  turn: proposalOf(anyOf(list(number, 9), nothing)),
  mirrored: proposalOf(boolean),
  midplane: proposalOf(midplane),
  landmarks: fields(Object.fromEntries(LANDMARK_NAMES.map((name) => [name, proposalOf(orNull(point))]))),
  questions: list(question),
  toConfirm: list(text),
});

const byHand = fields({
  given: list(
    fields({
      name: text,
      written: text,
      value: number,
      unit: oneOf('mm', 'deg', 'kg'),
      from: oneOf('written', 'fraction', 'default', 'assumed'),
    }),
  ),
  assumed: list(fields({ field: text, value: orNull(number), unit: oneOf('mm', 'deg'), why: text })),
  uncertainty: fields({ mm: number, deg: number, reason: text }),
});

export const backResultSchema: JsonSchema = fields({
  kind: oneOf('scan', 'tracings', 'by hand'),
  proposal: orNull(proposal),
  cleaning: list(
    fields({ step: oneOf(...CLEAN_STEPS), changed: number, largestMotionMm: number, sentence: text, applied: boolean }),
  ),
  questions: list(question),
  toConfirm: list(text),
  byHand: orNull(byHand),
  /** By the schema of backs, which stands by itself. */
  document: orNull({ type: 'object' }),
  written: list(text),
  remeasure: orNull(fields({ due: boolean, onIso: text, sentence: text })),
});
