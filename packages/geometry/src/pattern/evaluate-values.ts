import { InputError, showGot } from '../numeric/input-error.ts';
import { AMBIGUOUS_MEASURES, ambiguousMeasureError, readShopNumber } from '../units/index.ts';
import { angle, describeKind, evaluateExpression, length, plain, type Quantity } from './evaluate-expression.ts';
import { orderValues } from './order-values.ts';
import { type Expression, parseExpression } from './parse-expression.ts';
import type { FieldSpec } from './pattern-fields.ts';
import type { PatternValue } from './pattern-schema.ts';

/** A value as a number in its field's unit (mm, degrees, %), or a flat radius. */
export type ResolvedValue = number | 'flat';

/** Expression results are freed from the last binary digits: 17 in to mm gives 431.8 and not 431.79999999999995. */
const RESULT_GRAIN = 1e9;

/**
 * All values of one side as numbers: written ones first, the field's default where nothing is written.
 * `place` names the record in errors ("values"). Throws InputError: cycle, wrong-unit, out-of-range, and what reading throws.
 */
export function evaluateValues(
  fields: readonly FieldSpec[],
  writtenValues: Readonly<Record<string, PatternValue>>,
  place: string,
): Map<string, ResolvedValue> {
  const byKey = new Map(fields.map((field) => [field.key, field]));
  const known = new Set(byKey.keys());
  const entries = new Map<string, Quantity | 'flat' | Expression>();
  for (const field of fields) {
    const source = Object.hasOwn(writtenValues, field.key) ? writtenValues[field.key]! : field.default;
    entries.set(field.key, readValue(source, field, known, `${place}.${field.key}`));
  }
  const needs = new Map([...entries].map(([key, entry]) => [key, isExpression(entry) ? entry.dependencies : []]));
  const quantities = new Map<string, Quantity | 'flat'>();
  for (const key of orderValues(needs)) {
    const entry = entries.get(key)!;
    const name = `${place}.${key}`;
    const quantity = isExpression(entry) ? evaluate(entry, quantities, byKey.get(key)!, name) : entry;
    checkRange(quantity, byKey.get(key)!, writtenValues[key], name);
    quantities.set(key, quantity);
  }
  return new Map(fields.map(({ key }) => [key, toNumber(quantities.get(key)!)]));
}

function isExpression(entry: Quantity | 'flat' | Expression): entry is Expression {
  return typeof entry === 'object' && 'root' in entry;
}

function toNumber(quantity: Quantity | 'flat'): ResolvedValue {
  return quantity === 'flat' ? 'flat' : quantity.value;
}

function readValue(source: PatternValue, field: FieldSpec, known: ReadonlySet<string>, name: string) {
  if (typeof source === 'number') return fieldQuantity(source, field);
  if (field.kind === 'radius' && source.trim().toLowerCase() === 'flat') return 'flat';
  const read = readShopNumber(source, { defaultUnit: field.unit, field: name });
  if (read === null) return parseExpression(source, known, name);
  const wanted = fieldQuantity(read.value, field);
  const kind = read.kind === 'length' ? length(1) : read.kind === 'angle' ? angle(1) : plain(1);
  const isNumber = read.kind === 'length' || read.kind === 'angle' || read.kind === 'number';
  if (!isNumber || !sameKind(kind, wanted))
    throw wrongKind(source, isNumber ? describeKind(kind) : `a ${read.kind}`, field, name);
  return wanted;
}

function evaluate(
  expression: Expression,
  scope: ReadonlyMap<string, Quantity | 'flat'>,
  field: FieldSpec,
  name: string,
) {
  const only = expression.root;
  if (only.type === 'value' && field.kind === 'radius' && scope.get(only.name) === 'flat') return 'flat';
  const quantity = evaluateExpression(expression, (needed) => numberOf(needed, scope, name), name);
  if (!sameKind(quantity, fieldQuantity(1, field)))
    throw wrongKind(expression.text, describeKind(quantity), field, name);
  return { ...quantity, value: roundResult(quantity.value) };
}

function roundResult(value: number): number {
  return Math.abs(value) < 1e6 ? Math.round(value * RESULT_GRAIN) / RESULT_GRAIN : value;
}

function numberOf(needed: string, scope: ReadonlyMap<string, Quantity | 'flat'>, name: string): Quantity {
  const quantity = scope.get(needed)!;
  if (quantity !== 'flat') return quantity;
  throw new InputError({
    code: 'not-a-number',
    field: name,
    got: needed,
    expected: 'numbers to calculate with',
    remedy: `${needed} is flat and has no radius: give one of the two a number`,
  });
}

function fieldQuantity(value: number, field: FieldSpec): Quantity {
  if (field.kind === 'angle') return angle(value);
  return field.kind === 'percent' ? plain(value) : length(value);
}

function sameKind(a: Quantity, b: Quantity): boolean {
  return a.lengthPower === b.lengthPower && a.anglePower === b.anglePower;
}

function wrongKind(text: string, found: string, field: FieldSpec, name: string): InputError {
  const wanted = describeKind(fieldQuantity(1, field));
  const unit =
    field.unit === '%' ? 'leave the unit out: it is per cent' : `give its numbers a unit, such as ${field.unit}`;
  return new InputError({
    code: 'wrong-unit',
    field: name,
    got: `${showGot(text)}, ${found}`,
    expected: `${wanted} for ${field.label.toLowerCase()}`,
    remedy: unit,
  });
}

/** A rock of some millimetres or an inch is a sag, not a radius: that is asked about. */
const LARGEST_SAG_MM = 80;

function checkRange(
  quantity: Quantity | 'flat',
  field: FieldSpec,
  written: PatternValue | undefined,
  name: string,
): void {
  if (quantity === 'flat') return;
  const { value } = quantity;
  if (value >= field.min && value <= field.max) return;
  const rock = AMBIGUOUS_MEASURES.find((item) => item.measure === 'rock')!;
  const got = written === undefined ? `${value} ${field.unit}` : `${showGot(written)}, ${value} ${field.unit}`;
  if (field.key === 'rockRadius' && Math.abs(value) <= LARGEST_SAG_MM)
    throw ambiguousMeasureError(rock, { field: name, got });
  throw new InputError({
    code: 'out-of-range',
    field: name,
    got,
    expected: `${field.min} to ${field.max} ${field.unit}${field.kind === 'radius' ? ' or flat' : ''}`,
    remedy: field.help,
  });
}
