import { InputError, showGot } from '../numeric/input-error.ts';
import { INCHES_PER_HAND } from './constants.ts';
import { findUnit, type QuantityKind, toBaseUnit, type UnitName, unitKind } from './unit-table.ts';

export interface ShopNumber {
  /** In the base unit of the kind: mm, degrees, kPa, kg, N, degC; plain numbers and per cent as written. */
  readonly value: number;
  readonly kind: QuantityKind;
  /** The unit the number was read in. Hands are read in inches. */
  readonly unit: UnitName;
  /** Where that unit came from: written beside the number, implied by a fraction, or the field's own. */
  readonly unitFrom: 'written' | 'fraction' | 'default';
}

export interface ShopNumberOptions {
  /** The field's own unit, taken by a bare number. */
  readonly defaultUnit: UnitName;
  readonly field?: string;
}

/** Longest text that is read as a number or an expression. */
export const MAX_NUMBER_LENGTH = 200;

const DECIMAL = String.raw`(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?`;
const UNIT = String.raw`\s*([a-zA-Z]+|\u00b0\s?[cCfF]?|["'%])?`;
const PLAIN = new RegExp(`^([+-]?)\\s*(${DECIMAL})${UNIT}$`);
const FRACTION = new RegExp(`^([+-]?)\\s*(?:(\\d+)(\\s+|\\s*-\\s*))?(\\d+)/(\\d+)${UNIT}$`);
const HANDS = /^(\d+)(?:\.(\d+))?\s*(?:hands?|hh)$/i;
const FEET_INCHES =
  /^([+-]?)\s*(\d+)\s*(?:'|ft|feet|foot)\s*(?:(\d+(?:\.\d*)?)(?:\s+(\d+)\/(\d+))?|(\d+)\/(\d+))\s*(?:"|in|inch|inches)$/i;
const DECIMAL_COMMA = new RegExp(`^[+-]?\\d+,\\d+${UNIT}$`);

const FRACTION_SIGNS: Readonly<Record<string, string>> = {
  '\u00bd': '1/2',
  '\u00bc': '1/4',
  '\u00be': '3/4',
  '\u215b': '1/8',
  '\u215c': '3/8',
  '\u215d': '5/8',
  '\u215e': '7/8',
};

/**
 * Reads a number the way a shop writes it: `22 1/4`, `22-1/4"`, `14.2 hands`, `5' 6"`, `56 cm`, `45 deg`, `2 psi`.
 * Returns null when the text is something else, which may be an expression.
 *
 * A bare number takes the field's own unit. A bare fraction in a length field is inches, because no metric rule
 * is divided that way; `unitFrom` says so. `14.2 hands` is 14 hands 2 inches.
 *
 * Throws InputError: too-long; ambiguous (`22-1/4` may be 22.25 or 21.75); syntax (decimal comma, `22 5/4`);
 * out-of-range (`14.5 hands`); wrong-unit; not-a-number (`1e999`, `5/0`).
 */
export function readShopNumber(text: string, options: ShopNumberOptions): ShopNumber | null {
  const { field } = options;
  if (text.length > MAX_NUMBER_LENGTH) throw tooLong(text, field);
  const clean = normaliseSigns(text);
  refuseDecimalComma(clean, text, field);
  const read = readHands(clean, text, field) ?? readFeetInches(clean) ?? readFraction(clean, text, options);
  const result = read ?? readPlain(clean, text, options);
  if (result !== null && !Number.isFinite(result.value)) throw notFinite(text, field);
  return result;
}

/** Typographic minus, primes, quotes, spaces and fraction signs brought to the plain ones. */
export function normaliseSigns(text: string): string {
  return text
    .replace(/[\u2212\u2010\u2011\u2013]/g, '-')
    .replace(/[\u2033\u201c\u201d]|''/g, '"')
    .replace(/[\u2032\u2018\u2019]/g, "'")
    .replace(/\u2044/g, '/')
    .replace(/[\u00a0\u2009\u202f]/g, ' ')
    .replace(/(-?)([\u00bc-\u00be\u215b-\u215e])/g, (_, hyphen, sign) => `${hyphen || ' '}${FRACTION_SIGNS[sign]}`)
    .trim();
}

function readHands(clean: string, text: string, field: string | undefined): ShopNumber | null {
  const match = HANDS.exec(clean);
  if (match === null) return null;
  const inches = match[2] === undefined ? 0 : Number(match[2]);
  if (inches >= INCHES_PER_HAND || (match[2]?.length ?? 0) > 1) {
    throw refuse('out-of-range', text, field, {
      expected: 'whole hands and 0 to 3 inches after the point',
      remedy: '14.2 hands means 14 hands 2 inches; for half inches write the height in inches or cm',
    });
  }
  return written(Number(match[1]) * INCHES_PER_HAND + inches, 'in');
}

function readFeetInches(clean: string): ShopNumber | null {
  const match = FEET_INCHES.exec(clean);
  if (match === null) return null;
  const [, sign, feet, whole, num, den, onlyNum, onlyDen] = match;
  const part = num === undefined ? onlyNum : num;
  const fraction = part === undefined ? 0 : Number(part) / Number(den ?? onlyDen);
  const inches = Number(feet) * 12 + Number(whole ?? 0) + fraction;
  return written(sign === '-' ? -inches : inches, 'in');
}

function readFraction(clean: string, text: string, options: ShopNumberOptions): ShopNumber | null {
  const match = FRACTION.exec(clean);
  if (match === null) return null;
  const [, sign, whole, joint, num, den, unitText] = match;
  const numerator = Number(num);
  const denominator = Number(den);
  const hyphen = joint?.includes('-') === true;
  // A hyphen with room on both sides is a minus, and so is one before an improper fraction: both are expressions.
  if (hyphen && (/^\s+-\s+$/.test(joint) || numerator >= denominator)) return null;
  if (denominator === 0) throw notFinite(text, options.field);
  if (whole !== undefined && numerator >= denominator) throw improper(text, options.field);
  const magnitude = Number(whole ?? 0) + numerator / denominator;
  const unit = pickFractionUnit(unitText, text, options);
  if (hyphen && !(joint === '-' && unit.name === 'in' && unitText !== undefined)) {
    throw askAboutHyphen(text, options.field, match, unit.name);
  }
  const value = sign === '-' ? -magnitude : magnitude;
  return { value: toBaseUnit(value, unit.name), kind: unitKind(unit.name), unit: unit.name, unitFrom: unit.from };
}

function readPlain(clean: string, text: string, options: ShopNumberOptions): ShopNumber | null {
  const match = PLAIN.exec(clean);
  if (match === null) return null;
  const [, sign, digits, unitText] = match;
  const magnitude = Number(digits);
  if (!Number.isFinite(magnitude)) throw notFinite(text, options.field);
  const value = sign === '-' ? -magnitude : magnitude;
  if (unitText === undefined) return { ...written(value, options.defaultUnit), unitFrom: 'default' };
  // A word that is no unit may be the name of another value: `2 x`.
  const unit = findUnit(unitText.replace(/\s/g, ''));
  return unit === null ? null : written(value, unit);
}

function pickFractionUnit(
  unitText: string | undefined,
  text: string,
  options: ShopNumberOptions,
): { name: UnitName; from: ShopNumber['unitFrom'] } {
  if (unitText === undefined) {
    const isLength = unitKind(options.defaultUnit) === 'length';
    return isLength ? { name: 'in', from: 'fraction' } : { name: options.defaultUnit, from: 'default' };
  }
  const unit = findUnit(unitText.replace(/\s/g, ''));
  if (unit === null) {
    throw refuse('wrong-unit', text, options.field, {
      expected: 'a known unit after the fraction',
      remedy: 'write mm, cm, m, in, ft, deg, kPa, psi, kg, lb or N',
    });
  }
  return { name: unit, from: 'written' };
}

function written(value: number, unit: UnitName): ShopNumber {
  return { value: toBaseUnit(value, unit), kind: unitKind(unit), unit, unitFrom: 'written' };
}

function refuseDecimalComma(clean: string, text: string, field: string | undefined): void {
  if (!DECIMAL_COMMA.test(clean)) return;
  throw refuse('syntax', text, field, {
    expected: 'a point for decimals and nothing between thousands',
    remedy: `write ${clean.replace(',', '.')} or leave the comma out`,
  });
}

function askAboutHyphen(text: string, field: string | undefined, match: readonly string[], unit: UnitName): InputError {
  const [, sign, whole, , num, den] = match;
  const fraction = Number(num) / Number(den);
  const written = unit === '' ? '' : ` ${unit}`;
  const minus = (sign === '-' ? -Number(whole) : Number(whole)) - fraction;
  return refuse('ambiguous', text, field, {
    expected: 'a number that can be read only one way',
    remedy:
      `write "${sign}${whole} ${num}/${den}${written}" if you mean ${sign}${Number(whole) + fraction}${written}, ` +
      `or "${minus}${written}" if the hyphen is a minus`,
  });
}

function improper(text: string, field: string | undefined): InputError {
  return refuse('syntax', text, field, {
    expected: 'a fraction smaller than 1 after a whole number',
    remedy: 'write it as 22 1/4 or as one decimal number',
  });
}

function notFinite(text: string, field: string | undefined): InputError {
  return refuse('not-a-number', text, field, {
    expected: 'a finite number',
    remedy: 'use a number that can be measured; nothing is divided by zero',
  });
}

function tooLong(text: string, field: string | undefined): InputError {
  return refuse('too-long', text, field, {
    expected: `at most ${MAX_NUMBER_LENGTH} characters`,
    remedy: 'shorten it, or move a part into another value',
  });
}

function refuse(
  code: 'ambiguous' | 'not-a-number' | 'out-of-range' | 'syntax' | 'too-long' | 'wrong-unit',
  text: string,
  field: string | undefined,
  say: { expected: string; remedy: string },
): InputError {
  return new InputError({ code, ...(field === undefined ? {} : { field }), got: showGot(text), ...say });
}
