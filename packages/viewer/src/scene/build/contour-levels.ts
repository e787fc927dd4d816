import type { ClearanceScale, PressureScale, Setup } from '@barwright/geometry';
import type { ColourMode } from '../../state/view-state.ts';

export interface ContourLevel {
  readonly value: number;
  readonly isBold: boolean;
}

/** What the user fixed: ends of every map. */
export interface ContourScales {
  readonly clearanceScale: ClearanceScale;
  readonly pressureScale: PressureScale;
  readonly giveEndMm: number;
  readonly thicknessEndMm: number;
  readonly squeezeEndMm: number;
  readonly curvatureEndPerM: number;
  readonly dataEndMm: number;
}

type Limits = Partial<Setup['limits']> | undefined;

const CLEARANCE_STEP_MM = 3;
const PRESSURE_STEP_KPA = 5;
const THICKNESS_STEP_MM = 2;
/** Lines between nothing and an end, where the step is a share of the end. */
const LINES = 5;

/** From one fine line to the next: each 3 mm of clearance, 5 kPa, 2 mm of thickness; a fifth of the end in the others. */
export function stepOf(colour: ColourMode, scales: ContourScales): number {
  switch (colour) {
    case 'clearance':
      return CLEARANCE_STEP_MM;
    case 'pressure':
      return PRESSURE_STEP_KPA;
    case 'thickness':
      return THICKNESS_STEP_MM;
    case 'give':
      return scales.giveEndMm / LINES;
    case 'squeeze':
      return scales.squeezeEndMm / LINES;
    case 'curvature':
      return scales.curvatureEndPerM / LINES;
    case 'data':
      return scales.dataEndMm / LINES;
  }
}

/** Fixed values, the same for every tree; bold are just touching, flat, and the user's own limits. */
export function contourLevels(colour: ColourMode, scales: ContourScales, limits: Limits): ContourLevel[] {
  const { clearanceScale, pressureScale, giveEndMm } = scales;
  const step = stepOf(colour, scales);
  switch (colour) {
    case 'clearance':
      return aroundNothing(-clearanceScale.squeezeMm, clearanceScale.clearMm, step);
    case 'give':
      // Between the feet a bar hardly moves: a line at nothing would only trace the last digits.
      return aroundNothing(-giveEndMm, giveEndMm, step).filter(({ isBold }) => !isBold);
    case 'curvature':
      return aroundNothing(-scales.curvatureEndPerM, scales.curvatureEndPerM, step);
    case 'thickness':
      return fromNothing(scales.thicknessEndMm, step);
    case 'squeeze':
      return fromNothing(scales.squeezeEndMm, step);
    case 'data':
      return fromNothing(scales.dataEndMm, step);
    case 'pressure':
      return [...fromNothing(pressureScale.maxKPa, step), ...limitsOf(limits)];
  }
}

function aroundNothing(low: number, high: number, step: number): ContourLevel[] {
  const from = Math.ceil(low / step);
  const to = Math.floor(high / step);
  return Array.from({ length: to - from + 1 }, (_, i) => ({ value: (from + i) * step, isBold: from + i === 0 }));
}

const fromNothing = (high: number, step: number): ContourLevel[] =>
  Array.from({ length: Math.floor(high / step) }, (_, i) => ({ value: (i + 1) * step, isBold: false }));

const limitsOf = (limits: Limits): ContourLevel[] =>
  [limits?.meanKPa, limits?.peakKPa].flatMap((value) => (value === undefined ? [] : [{ value, isBold: true }]));
