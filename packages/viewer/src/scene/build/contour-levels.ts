import type { ClearanceScale, PressureScale, Setup } from '@barwright/geometry';
import type { ColourMode } from '../../state/view-state.ts';

export interface ContourLevel {
  readonly value: number;
  readonly isBold: boolean;
}

/** What the user fixed: ends of every map, and the limits that are drawn bold. */
export interface ContourScales {
  readonly clearance: ClearanceScale;
  readonly pressure: PressureScale;
  readonly giveEndMm: number;
  readonly thicknessEndMm: number;
  readonly limits: Partial<Setup['limits']> | undefined;
}

const CLEARANCE_STEP_MM = 3;
const PRESSURE_STEP_KPA = 5;
export const THICKNESS_STEP_MM = 2;
/** Lines of give from nothing to either end. */
const GIVE_LINES = 5;

export const giveStepMm = (endMm: number): number => endMm / GIVE_LINES;

/** Fixed values, the same for every tree: each 3 mm with just touching bold, each 5 kPa with the user's limits bold, give in fifths of its end, each 2 mm of thickness. */
export function contourLevels(colour: ColourMode, scales: ContourScales): ContourLevel[] {
  const { clearance, pressure, giveEndMm, thicknessEndMm } = scales;
  switch (colour) {
    case 'clearance':
      return aroundNothing(-clearance.squeezeMm, clearance.clearMm, CLEARANCE_STEP_MM);
    case 'give':
      // Between the feet a bar hardly moves: a line at nothing would only trace the last digits.
      return aroundNothing(-giveEndMm, giveEndMm, giveStepMm(giveEndMm)).filter(({ isBold }) => !isBold);
    case 'thickness':
      return fromNothing(thicknessEndMm, THICKNESS_STEP_MM);
    case 'pressure':
      return [...fromNothing(pressure.maxKPa, PRESSURE_STEP_KPA), ...limitsOf(scales.limits)];
  }
}

function aroundNothing(low: number, high: number, step: number): ContourLevel[] {
  const from = Math.ceil(low / step);
  const to = Math.floor(high / step);
  return Array.from({ length: to - from + 1 }, (_, i) => ({ value: (from + i) * step, isBold: from + i === 0 }));
}

const fromNothing = (high: number, step: number): ContourLevel[] =>
  Array.from({ length: Math.floor(high / step) }, (_, i) => ({ value: (i + 1) * step, isBold: false }));

const limitsOf = (limits: ContourScales['limits']): ContourLevel[] =>
  [limits?.meanKPa, limits?.peakKPa].flatMap((value) => (value === undefined ? [] : [{ value, isBold: true }]));
