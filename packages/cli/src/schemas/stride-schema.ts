import type { StridePhase, TipOption, TipOverStride } from '@barwright/geometry';
import { numberOrNull } from './envelope-schema.ts';
import { statusSchema, tipSchema } from './fit-result-schema.ts';
import { about, fields, type JsonSchema, list, number, oneOf } from './json-schema.ts';

type Fields<Of> = Record<keyof Of, JsonSchema>;

const contact: Fields<StridePhase['contact']> = {
  areaCm2: number,
  meanPressureKPa: number,
  p95PressureKPa: number,
  peakPressureKPa: number,
  shareFront: number,
  shareLeft: number,
  shareRight: number,
};

const phase: Fields<StridePhase> = {
  phase: about(number, '0 to 1: the left leg stands at 0 and is fully forward at a half'),
  bladeLeftMm: about(number, 'behind its standing place'),
  bladeRightMm: number,
  status: statusSchema,
  heightMm: number,
  pitchDeg: about(number, '+ front up'),
  rollDeg: about(number, '+ right side up'),
  appliedN: number,
  supportedN: number,
  contact: fields(contact),
  tips: about(list(tipSchema, 2), 'front tips, left first; gaps + clear, - squeeze'),
};
export const phaseSchema: JsonSchema = fields(phase);

const over: Fields<TipOverStride> = {
  side: oneOf('left', 'right'),
  leastGapMm: about(numberOrNull, 'least of the three heights of the tip edge over the stride'),
  leastGapPhase: numberOrNull,
  highestPressureKPa: number,
  highestPressurePhase: number,
  mostLoadN: about(number, 'most that the tip zone carries'),
};
export const tipOverSchema: JsonSchema = fields(over);

const option: Fields<TipOption> = {
  zoneMm: number,
  liftMm: number,
  leastGapMm: numberOrNull,
  worstPhase: number,
  highestPressureKPa: number,
  bearingCm2: about(number, 'underside between the flares, both bars'),
  contactCm2: about(number, 'standing, and so are mean and p95'),
  meanPressureKPa: number,
  p95PressureKPa: number,
};
export const tipOptionSchema: JsonSchema = fields(option);
