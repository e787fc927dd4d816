import { KPA_PER_PSI, MM_PER_INCH } from '@barwright/geometry';
import { TRUE_MINUS, type Units } from '../../look/format.ts';

/** Small lengths and pressures as a chart shows them: number and unit apart. */
export interface ChartUnits {
  readonly gap: (mm: number | null) => number;
  readonly gapUnit: string;
  readonly pressure: (kPa: number) => number;
  readonly pressureUnit: string;
}

export function chartUnits(units: Units): ChartUnits {
  const isInch = units.length === 'in';
  const isPsi = units.pressure === 'psi';
  return {
    gap: (mm) => (mm === null ? Number.NaN : isInch ? mm / MM_PER_INCH : mm),
    gapUnit: isInch ? 'in' : 'mm',
    pressure: (kPa) => (isPsi ? kPa / KPA_PER_PSI : kPa),
    pressureUnit: isPsi ? 'psi' : 'kPa',
  };
}

/** A typed length with its unit left out: mm, or inches where the page shows inches. A fraction may be written 3/16. NaN: not a number. */
export function typedMm(text: string, units: Units): number {
  const plain = text.trim().replace(TRUE_MINUS, '-').replace(',', '.');
  const fraction = /^(-?)(?:(\d+)\s+)?(\d+)\/(\d+)$/.exec(plain);
  const value =
    fraction === null
      ? plain === ''
        ? Number.NaN
        : Number(plain)
      : (fraction[1] === '-' ? -1 : 1) * (Number(fraction[2] ?? 0) + Number(fraction[3]) / Number(fraction[4]));
  return units.length === 'in' ? value * MM_PER_INCH : value;
}
