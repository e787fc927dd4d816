import type { ClearanceScale, PressureScale, Setup } from '@barwright/geometry';
import type { ColourMode } from '../../state/view-state.ts';

export interface ContourLevel {
  readonly value: number;
  readonly isBold: boolean;
}

const CLEARANCE_STEP_MM = 3;
const PRESSURE_STEP_KPA = 5;

/** Fixed values, the same for every tree: each 3 mm with just touching bold, each 5 kPa with the user's limits bold. */
export function contourLevels(
  colour: ColourMode,
  clearance: ClearanceScale,
  pressure: PressureScale,
  limits: Partial<Setup['limits']> | undefined,
): ContourLevel[] {
  if (colour === 'clearance') {
    const from = Math.ceil(-clearance.squeezeMm / CLEARANCE_STEP_MM);
    const to = Math.floor(clearance.clearMm / CLEARANCE_STEP_MM);
    return Array.from({ length: to - from + 1 }, (_, i) => {
      const value = (from + i) * CLEARANCE_STEP_MM;
      return { value, isBold: value === 0 };
    });
  }
  const steps = Math.floor(pressure.maxKPa / PRESSURE_STEP_KPA);
  const fine = Array.from({ length: steps }, (_, i) => ({ value: (i + 1) * PRESSURE_STEP_KPA, isBold: false }));
  const bold = [limits?.meanKPa, limits?.peakKPa].flatMap((value) =>
    value === undefined ? [] : [{ value, isBold: true }],
  );
  return [...fine, ...bold];
}
