import { InputError, readQuantity, type UnitName } from '@barwright/geometry';

/** Ends of what an option takes. */
export interface FlagRange {
  readonly least: number;
  readonly most: number;
}

/** A length of the command line, mm; bare numbers are mm. Throws InputError naming the option. */
export function lengthFlag(text: string, option: string, range: FlagRange): number {
  return inRange(readQuantity(text, { field: option, unit: 'mm' }), text, option, range, ' mm');
}

/** A whole number of the command line. Throws InputError naming the option. */
export function countFlag(text: string, option: string, range: FlagRange): number {
  const count = readQuantity(text, { field: option, unit: '' as UnitName });
  return inRange(Number.isInteger(count) ? count : Number.NaN, text, option, range, '', 'a whole number, ');
}

function inRange(value: number, got: string, field: string, range: FlagRange, unit: string, what = ''): number {
  if (value >= range.least && value <= range.most) return value;
  throw new InputError({
    code: 'out-of-range',
    field,
    got: JSON.stringify(got).slice(0, 60),
    expected: `${what}${range.least} to ${range.most}${unit}`,
    remedy: 'Give a number in this range',
  });
}
