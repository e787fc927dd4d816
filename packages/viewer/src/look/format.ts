import { KG_PER_POUND, KPA_PER_PSI, MM_PER_INCH, N_PER_POUND_FORCE, splitInches } from '@barwright/geometry';
import { COMMON_TEXTS } from './texts/common.ts';

/** What figures are shown in. Nothing that is stored depends on it. */
export interface Units {
  readonly length: 'mm' | 'in';
  readonly pressure: 'kPa' | 'psi';
  readonly mass: 'kg' | 'lb';
}

export const METRIC: Units = Object.freeze({ length: 'mm', pressure: 'kPa', mass: 'kg' });
export const SHOP: Units = Object.freeze({ length: 'in', pressure: 'psi', mass: 'lb' });

/** One figure in parts, so that the page can set its fraction and its unit. */
export interface FigureParts {
  readonly sign: '' | '−' | '+';
  /** Whole part or decimal number; empty when a bare fraction follows. */
  readonly number: string;
  readonly fraction: readonly [number, number] | null;
  readonly unit: string;
}

export interface FigureOptions {
  /** Decimals of a metric figure. */
  readonly decimals?: number;
  /** Writes a plus in front of positive figures: differences. */
  readonly signed?: boolean;
  /** Smallest part of an inch, default 16. */
  readonly divisions?: number;
}

const NO_FIGURE: FigureParts = Object.freeze({ sign: '', number: COMMON_TEXTS.noData, fraction: null, unit: '' });
export const TRUE_MINUS = '−';
const THIN_SPACE = '\u2009';

export function decimalFigure(value: number | null, unit: string, decimals: number, signed = false): FigureParts {
  if (value === null || !Number.isFinite(value)) return NO_FIGURE;
  const number = Math.abs(value).toFixed(decimals);
  const isZero = Number(number) === 0;
  return { sign: isZero ? '' : value < 0 ? TRUE_MINUS : signed ? '+' : '', number, fraction: null, unit };
}

/** A length in mm: 560.0 mm, or 22 1/16 in set as a fraction. */
export function lengthFigure(mm: number | null, units: Units, options: FigureOptions = {}): FigureParts {
  if (units.length === 'mm' || mm === null || !Number.isFinite(mm))
    return decimalFigure(mm, 'mm', options.decimals ?? 1, options.signed);
  const { sign, whole, numerator, denominator } = splitInches(mm, options.divisions ?? 16);
  const isZero = whole === 0 && numerator === 0;
  return {
    sign: isZero ? '' : sign < 0 ? TRUE_MINUS : options.signed ? '+' : '',
    number: whole === 0 && numerator > 0 ? '' : String(whole),
    fraction: numerator > 0 ? [numerator, denominator] : null,
    unit: 'in',
  };
}

/** Small gaps: 2.4 mm, or 0.09 in, where a sixteenth would be too coarse to follow a drag. */
export function gapFigure(mm: number | null, units: Units, options: FigureOptions = {}): FigureParts {
  if (units.length === 'mm') return decimalFigure(mm, 'mm', options.decimals ?? 1, options.signed);
  return decimalFigure(mm === null ? null : mm / MM_PER_INCH, 'in', 2, options.signed);
}

export function pressureFigure(kPa: number | null, units: Units): FigureParts {
  if (units.pressure === 'kPa') return decimalFigure(kPa, 'kPa', 1);
  return decimalFigure(kPa === null ? null : kPa / KPA_PER_PSI, 'psi', 2);
}

export function massFigure(kg: number | null, units: Units): FigureParts {
  if (units.mass === 'kg') return decimalFigure(kg, 'kg', 0);
  return decimalFigure(kg === null ? null : kg / KG_PER_POUND, 'lb', 0);
}

export function areaFigure(cm2: number | null, units: Units): FigureParts {
  if (units.length === 'mm') return decimalFigure(cm2, 'cm²', 0);
  return decimalFigure(cm2 === null ? null : (cm2 * 100) / MM_PER_INCH ** 2, 'in²', 0);
}

/** Newtons on the metric page, pounds-force on the shop page. */
export function forceFigure(newtons: number | null, units: Units): FigureParts {
  if (units.mass === 'kg') return decimalFigure(newtons, 'N', 0);
  return decimalFigure(newtons === null ? null : newtons / N_PER_POUND_FORCE, 'lbf', 0);
}

export const angleFigure = (deg: number | null, signed = false): FigureParts => decimalFigure(deg, '°', 1, signed);

/** A share 0..1 as per cent. */
export const shareFigure = (share: number | null, decimals = 0): FigureParts =>
  decimalFigure(share === null ? null : share * 100, '%', decimals);

/** The figure as one line of text, for labels and for people who listen to the page. */
export function figureText({ sign, number, fraction, unit }: FigureParts): string {
  const whole = fraction === null ? number : `${number === '' ? '' : `${number} `}${fraction[0]}/${fraction[1]}`;
  const space = unit === '' || unit === '°' ? '' : THIN_SPACE;
  return `${sign}${whole}${space}${unit}`;
}
