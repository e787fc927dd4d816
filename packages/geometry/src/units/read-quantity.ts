import { InputError, showGot } from '../numeric/input-error.ts';
import { readShopNumber } from './read-shop-number.ts';
import { toBaseUnit, type UnitName, unitKind } from './unit-table.ts';

/**
 * Reads one measured value of a document or command: a finite number in the field's own unit, or a shop number.
 * Returns it in the base unit of the field's kind (mm, degrees, kPa, kg, N, degC, plain).
 * Throws InputError: wrong-type, wrong-unit, syntax, and what readShopNumber throws.
 */
export function readQuantity(input: unknown, options: { field: string; unit: UnitName }): number {
  const { field, unit } = options;
  if (typeof input === 'number' && Number.isFinite(input)) return toBaseUnit(input, unit);
  if (typeof input !== 'string') throw wrongType(input, field);
  const read = readShopNumber(input, { defaultUnit: unit, field });
  if (read === null) throw notANumber(input, field);
  if (read.kind !== unitKind(unit)) throw wrongKind(input, field, unit);
  return read.value;
}

function wrongType(input: unknown, field: string): InputError {
  return new InputError({
    code: typeof input === 'number' ? 'not-a-number' : 'wrong-type',
    field,
    got: showGot(input),
    expected: 'a finite number, or text such as "22 1/4 in"',
    remedy: 'give one number with or without its unit',
  });
}

function notANumber(input: string, field: string): InputError {
  return new InputError({
    code: 'syntax',
    field,
    got: showGot(input),
    expected: 'one number with or without its unit',
    remedy: 'write it as 560, 560 mm, 22 1/4 in or 5/16',
  });
}

function wrongKind(input: string, field: string, unit: UnitName): InputError {
  const kind = unitKind(unit);
  return new InputError({
    code: 'wrong-unit',
    field,
    got: showGot(input),
    expected: kind === 'number' ? `a plain number${unit === '%' ? ' of per cent' : ''}` : `a ${kind}`,
    remedy: unit === '' ? 'leave the unit out' : `write it in ${unit}`,
  });
}
