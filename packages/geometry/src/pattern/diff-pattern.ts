import type { ResolvedValue } from './evaluate-values.ts';
import { GULLET_WIDTH_FIELD } from './gullet-width.ts';
import { listPatternFields } from './list-fields.ts';
import type { FieldSpec } from './pattern-fields.ts';
import type { PatternDocument } from './pattern-schema.ts';
import { type ResolvedPattern, resolvePattern } from './resolve-pattern.ts';

export interface PatternDifference {
  readonly key: string;
  readonly label: string;
  readonly unit: FieldSpec['unit'];
  readonly side: 'both' | 'left' | 'right';
  /** In the field's unit; null where a pattern has no such value (other stations). */
  readonly value: ResolvedValue | null;
  readonly parentValue: ResolvedValue | null;
  /** value less parentValue, null when one of them is flat or absent. */
  readonly delta: number | null;
}

/** Below this, in mm, degrees or per cent, two values are the same: the last digits of a sum. */
const SAME = 1e-9;

/** Differences in resolved numbers, key by key, in the order of the fields. */
export function diffPatterns(document: PatternDocument, parent: PatternDocument): PatternDifference[] {
  const now = resolvePattern(document);
  const before = resolvePattern(parent);
  const fields = new Map<string, FieldSpec>();
  const all = [...listPatternFields(document.stations), ...listPatternFields(parent.stations), GULLET_WIDTH_FIELD];
  for (const field of all) if (!fields.has(field.key)) fields.set(field.key, field);
  return [...fields.values()].flatMap((field) => diffField(field, now, before));
}

/** Differences to the parent kept inside the document; none when it has no parent. */
export function diffFromParent(document: PatternDocument): PatternDifference[] {
  const parent = parentDocument(document);
  return parent === null ? [] : diffPatterns(document, parent);
}

/** The parent kept inside a document, as a document of its own, or null. */
export function parentDocument(document: PatternDocument): PatternDocument | null {
  const { parent } = document;
  if (parent === null) return null;
  return {
    schema: document.schema,
    name: parent.name,
    parent: null,
    notes: '',
    stations: parent.stations ?? document.stations,
    values: parent.values,
    leftValues: parent.leftValues ?? {},
    answers: document.answers,
    materials: {},
  };
}

function diffField(field: FieldSpec, now: ResolvedPattern, before: ResolvedPattern): PatternDifference[] {
  const right = compare(field, 'right', now.values, before.values);
  const left = compare(field, 'left', now.leftValues, before.leftValues);
  const alike = right.value === left.value && right.parentValue === left.parentValue;
  const found: PatternDifference[] = alike ? [{ ...right, side: 'both' }] : [right, left];
  return found.filter(isChange);
}

type Values = Readonly<Record<string, ResolvedValue>>;

function compare(field: FieldSpec, side: 'left' | 'right', now: Values, before: Values): PatternDifference {
  const { key, label, unit } = field;
  const value = now[key] ?? null;
  const parentValue = before[key] ?? null;
  const delta = typeof value === 'number' && typeof parentValue === 'number' ? value - parentValue : null;
  return { key, label, unit, side, value, parentValue, delta };
}

function isChange({ value, parentValue, delta }: PatternDifference): boolean {
  return delta === null ? value !== parentValue : Math.abs(delta) > SAME;
}
