import { MM_PER_INCH } from './constants.ts';

export type LengthUnit = 'mm' | 'in';

/**
 * A length as a rule shows it. Always exact together:
 * lengthMm = sign * (whole + numerator / denominator) * 25.4 + remainderMm.
 */
export interface InchFraction {
  readonly sign: 1 | -1;
  readonly whole: number;
  /** 0 when the length falls on a whole inch; the fraction is reduced. */
  readonly numerator: number;
  readonly denominator: number;
  /** What the nearest mark leaves over, mm, at most half a division either way. */
  readonly remainderMm: number;
}

/** Splits a length into inches to the nearest 1/`divisions` and the remainder. Divisions: 2, 4, 8, 16, 32 or 64. */
export function splitInches(lengthMm: number, divisions = 16): InchFraction {
  const sign = lengthMm < 0 ? -1 : 1;
  const marks = Math.round((Math.abs(lengthMm) / MM_PER_INCH) * divisions);
  const whole = Math.floor(marks / divisions);
  let numerator = marks - whole * divisions;
  let denominator = divisions;
  while (numerator > 0 && numerator % 2 === 0 && denominator % 2 === 0) {
    numerator /= 2;
    denominator /= 2;
  }
  const remainderMm = lengthMm - ((sign * marks) / divisions) * MM_PER_INCH;
  return { sign, whole, numerator, denominator: numerator === 0 ? 1 : denominator, remainderMm };
}

/** A length for reading: `560.0 mm`, or `22 1/16 in (-0.4 mm)`; a remainder under 0.05 mm isn't written. */
export function formatLength(lengthMm: number, unit: LengthUnit): string {
  if (!Number.isFinite(lengthMm)) return 'no data';
  return unit === 'mm' ? `${fixed(lengthMm, 1)} mm` : formatInches(splitInches(lengthMm));
}

/** Text of a split length, with the inch as `in`. */
export function formatInches(parts: InchFraction): string {
  const { sign, whole, numerator, denominator, remainderMm } = parts;
  const fraction = numerator === 0 ? '' : `${numerator}/${denominator}`;
  const number = whole === 0 && fraction !== '' ? fraction : `${whole}${fraction === '' ? '' : ` ${fraction}`}`;
  const minus = sign < 0 && (whole > 0 || numerator > 0) ? '-' : '';
  const rest = fixed(remainderMm, 1);
  const remainder = Number(rest) === 0 ? '' : ` (${Number(rest) > 0 ? '+' : ''}${rest} mm)`;
  return `${minus}${number} in${remainder}`;
}

/** Fixed decimals without a minus in front of zero. */
export function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? (0).toFixed(decimals) : text;
}
