import { KG_PER_POUND, KPA_PER_PSI } from './constants.ts';
import { fixed } from './format-length.ts';

export function formatPressure(pressureKPa: number, unit: 'kPa' | 'psi'): string {
  if (!Number.isFinite(pressureKPa)) return 'no data';
  return unit === 'kPa' ? `${fixed(pressureKPa, 1)} kPa` : `${fixed(pressureKPa / KPA_PER_PSI, 2)} psi`;
}

export function formatMass(massKg: number, unit: 'kg' | 'lb'): string {
  if (!Number.isFinite(massKg)) return 'no data';
  return unit === 'kg' ? `${fixed(massKg, 1)} kg` : `${fixed(massKg / KG_PER_POUND, 0)} lb`;
}

export function formatForce(forceN: number): string {
  return Number.isFinite(forceN) ? `${fixed(forceN, 0)} N` : 'no data';
}

export function formatAngle(angleDeg: number): string {
  return Number.isFinite(angleDeg) ? `${fixed(angleDeg, 1)}\u00b0` : 'no data';
}
