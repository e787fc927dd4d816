import { DEG_PER_RAD, KG_PER_POUND, KPA_PER_PSI, MM_PER_FOOT, MM_PER_INCH, N_PER_POUND_FORCE } from './constants.ts';

export type QuantityKind = 'length' | 'angle' | 'pressure' | 'mass' | 'force' | 'temperature' | 'number';

/** Every unit a field may have, '' for a plain number. */
export type UnitName =
  | 'mm'
  | 'cm'
  | 'm'
  | 'in'
  | 'ft'
  | 'deg'
  | 'rad'
  | 'kPa'
  | 'psi'
  | 'kg'
  | 'lb'
  | 'N'
  | 'lbf'
  | 'degC'
  | 'degF'
  | '%'
  | '';

interface Unit {
  readonly kind: QuantityKind;
  readonly toBase: (value: number) => number;
}

const times = (kind: QuantityKind, factor: number): Unit => ({ kind, toBase: (value) => value * factor });

const UNITS: Readonly<Record<UnitName, Unit>> = {
  mm: times('length', 1),
  cm: times('length', 10),
  m: times('length', 1000),
  in: times('length', MM_PER_INCH),
  ft: times('length', MM_PER_FOOT),
  deg: times('angle', 1),
  rad: times('angle', DEG_PER_RAD),
  kPa: times('pressure', 1),
  psi: times('pressure', KPA_PER_PSI),
  kg: times('mass', 1),
  lb: times('mass', KG_PER_POUND),
  N: times('force', 1),
  lbf: times('force', N_PER_POUND_FORCE),
  degC: times('temperature', 1),
  degF: { kind: 'temperature', toBase: (value) => ((value - 32) * 5) / 9 },
  '%': times('number', 1),
  '': times('number', 1),
};

/** How people write the units, in lower case. Words that mean two units are left out on purpose. */
const SPELLINGS: ReadonlyMap<string, UnitName> = new Map<string, UnitName>([
  ...(['mm', 'cm', 'm', 'in', 'ft', 'deg', 'rad', 'psi', 'kg', 'lb', 'lbf', '%'] as const).map(
    (unit) => [unit, unit] as const,
  ),
  ['kpa', 'kPa'],
  ['n', 'N'],
  ['inch', 'in'],
  ['inches', 'in'],
  ['"', 'in'],
  ["'", 'ft'],
  ['foot', 'ft'],
  ['feet', 'ft'],
  ['degree', 'deg'],
  ['degrees', 'deg'],
  ['\u00b0', 'deg'],
  ['lbs', 'lb'],
  ['degc', 'degC'],
  ['\u00b0c', 'degC'],
  ['degf', 'degF'],
  ['\u00b0f', 'degF'],
]);

/** The unit a person wrote, or null. Capitals don't matter. */
export function findUnit(written: string): UnitName | null {
  return SPELLINGS.get(written.toLowerCase()) ?? null;
}

export function unitKind(unit: UnitName): QuantityKind {
  return UNITS[unit].kind;
}

/** Converts to the base unit of the kind: mm, degrees, kPa, kg, N, degC, or the number itself (per cent stay per cent). */
export function toBaseUnit(value: number, unit: UnitName): number {
  return UNITS[unit].toBase(value);
}
