import { MM_PER_INCH, type PatternField, type ResolvedValue, readShopNumber, type UnitName } from '@barwright/geometry';
import { decimalFigure, type FigureParts, figureText, gapFigure, lengthFigure, type Units } from '../look/format.ts';

/** What a value is measured in on screen: one entry for the card and one for the setup. */
export type ValueKind = 'length' | 'radius' | 'angle' | 'percent' | 'mass' | 'plain';

export const kindOf = (field: PatternField): ValueKind => field.kind;

const isLength = (kind: ValueKind): boolean => kind === 'length' || kind === 'radius';

/** The value as the page shows it, with its unit. */
export function valueFigure(value: ResolvedValue, kind: ValueKind, units: Units): FigureParts {
  if (value === 'flat') return { sign: '', number: 'flat', fraction: null, unit: '' };
  if (isLength(kind)) return lengthFigure(value, units, { decimals: trimmed(value) });
  if (kind === 'angle') return decimalFigure(value, '°', trimmed(value));
  return decimalFigure(value, kind === 'percent' ? '%' : '', trimmed(value));
}

/** One decimal where there is one to show. */
const trimmed = (value: number): number => (Math.abs(value - Math.round(value)) < 0.05 ? 0 : 1);

/** The same without its unit, for the inside of an input. */
export function inputText(value: ResolvedValue, kind: ValueKind, units: Units): string {
  return figureText({ ...valueFigure(value, kind, units), unit: '' }).replace('−', '-');
}

/** What stands behind an input, for correct alignment of columns. */
export function unitText(kind: ValueKind, units: Units): string {
  if (isLength(kind)) return units.length;
  return kind === 'angle' ? '°' : kind === 'percent' ? '%' : kind === 'mass' ? units.mass : '';
}

/** A change from the parent: in sixteenths when it is that large, otherwise in decimals, always with its sign. */
export function deltaFigure(delta: number, kind: ValueKind, units: Units): FigureParts {
  if (!isLength(kind))
    return decimalFigure(delta, kind === 'angle' ? '°' : kind === 'percent' ? '%' : '', trimmed(delta), true);
  const isFine = units.length === 'in' && Math.abs(delta) < MM_PER_INCH / 32;
  return isFine
    ? gapFigure(delta, units, { signed: true })
    : lengthFigure(delta, units, { signed: true, decimals: trimmed(delta) });
}

/** true when what is written is more than one number: it is shown as written, with its result beside it. */
export function isExpression(written: string | number | undefined): written is string {
  if (typeof written !== 'string' || /^\s*flat\s*$/i.test(written)) return false;
  try {
    return readShopNumber(written, { defaultUnit: 'mm' }) === null;
  } catch {
    return true;
  }
}

/** On an inch page a bare number in a length field means inches; anything with a unit stays as typed. */
export function withPageUnit(text: string, kind: ValueKind, units: Units): string {
  const clean = text.trim();
  if (!isLength(kind) || units.length === 'mm') return clean;
  try {
    const read = readShopNumber(clean, { defaultUnit: 'in' });
    return read?.unitFrom === 'default' ? `${clean} in` : clean;
  } catch {
    return clean;
  }
}

/** Unit of a bare number in a setup field. */
export function defaultUnit(kind: ValueKind, units: Units): UnitName {
  if (isLength(kind)) return units.length;
  if (kind === 'mass') return units.mass;
  return kind === 'angle' ? 'deg' : kind === 'percent' ? '%' : '';
}

/** One press of an arrow key or one notch of a drag, in the field's own unit. */
export function stepOf(kind: ValueKind, units: Units): number {
  if (kind === 'radius') return units.length === 'mm' ? 10 : MM_PER_INCH / 4;
  if (kind === 'length') return units.length === 'mm' ? 1 : MM_PER_INCH / 16;
  return kind === 'angle' ? 0.5 : 1;
}

/** The value some steps on, on a whole step, within the range. */
export function stepped(value: number, steps: number, kind: ValueKind, units: Units, min: number, max: number): number {
  const step = stepOf(kind, units);
  const next = Math.round(value / step + steps) * step;
  return Math.min(max, Math.max(min, Math.round(next * 1e9) / 1e9));
}

/** Place of a value in its range, 0..1. Radii are placed by curvature, because that is what a bar shows. */
export function placeInRange(value: ResolvedValue, kind: ValueKind, min: number, max: number): number {
  if (kind === 'radius') {
    const curvature = value === 'flat' ? 0 : 1 / value;
    return clamp01(1 - curvature / (1 / min));
  }
  return value === 'flat' ? 1 : clamp01((value - min) / (max - min));
}

const clamp01 = (v: number): number => Math.min(1, Math.max(0, v));
